"""The shop's own spreadsheet brought into a week: its headings matched, its dates read, its rows merged."""
