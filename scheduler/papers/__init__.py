"""What is handed out: tables as CSV and printable pages."""
