"""A workbook packed part by part the way LibreOffice Calc saves one, which is not how openpyxl does.

As seen in files saved by LibreOffice 7: every cell has a style and a type, even numbers (t="n"); texts are shared ones
with xml:space; days are serial numbers under a format of the shop's own; rows below the table are written as empty
formatted ones, the last of them far down; the sheet claims a size up to its last column.
"""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
DAY_STYLE, PLAIN_STYLE = 2, 1
EPOCH = date(1899, 12, 30)
LAST_ROW = 1_048_576

Cell = str | int | float | bool | date | None


def calc_workbook(path: Path, rows: Sequence[Sequence[Cell]], *, day_format: str = "mm/dd/yy") -> Path:
    """One sheet of these rows, saved as Calc would."""
    texts: list[str] = []
    lines = "".join(_row(number, cells, texts) for number, cells in enumerate(rows, start=1))
    width = max(len(cells) for cells in rows)
    # Calc keeps the look of whole columns in empty rows, the last at the very end of the sheet.
    lines += "".join(
        f'<row r="{number}" customFormat="false" ht="12.8" hidden="false" customHeight="false" outlineLevel="0"/>'
        for number in (len(rows) + 1, len(rows) + 2, LAST_ROW)
    )
    shared = "".join(f'<si><t xml:space="preserve">{escape(text)}</t></si>' for text in texts)
    parts = {
        "[Content_Types].xml": _content_types(),
        "_rels/.rels": _relations([("officeDocument", "xl/workbook.xml")]),
        "xl/_rels/workbook.xml.rels": _relations(
            [("styles", "styles.xml"), ("worksheet", "worksheets/sheet1.xml"), ("sharedStrings", "sharedStrings.xml")]
        ),
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><fileVersion appName="Calc"/><sheets>'
        '<sheet name="Sheet1" sheetId="1" state="visible" r:id="rId2"/></sheets></workbook>',
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{MAIN}"><dimension ref="A1:{_letter(width)}{LAST_ROW}"/>'
        f"<sheetData>{lines}</sheetData></worksheet>",
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}" count="{len(texts)}" uniqueCount="{len(texts)}">{shared}</sst>',
        "xl/styles.xml": _styles(day_format),
        "docProps/app.xml": '<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/'
        'extended-properties"><Application>LibreOffice/7.4.7.2</Application></Properties>',
    }
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in parts.items():
            packed.writestr(name, HEAD + text)
    return path


def _row(number: int, cells: Sequence[Cell], texts: list[str]) -> str:
    found = "".join(_cell(f"{_letter(place)}{number}", cell, texts) for place, cell in enumerate(cells, start=1))
    return f'<row r="{number}" customFormat="false" ht="12.8" hidden="false" outlineLevel="0">{found}</row>'


def _cell(name: str, cell: Cell, texts: list[str]) -> str:
    if cell is None:
        return f'<c r="{name}" s="{PLAIN_STYLE}"/>'
    if isinstance(cell, bool):
        return f'<c r="{name}" s="{PLAIN_STYLE}" t="b"><v>{int(cell)}</v></c>'
    if isinstance(cell, date):
        return f'<c r="{name}" s="{DAY_STYLE}" t="n"><v>{(cell - EPOCH).days}</v></c>'
    if isinstance(cell, str):
        texts.append(cell)
        return f'<c r="{name}" s="{PLAIN_STYLE}" t="s"><v>{len(texts) - 1}</v></c>'
    return f'<c r="{name}" s="{PLAIN_STYLE}" t="n"><v>{cell}</v></c>'


def _letter(place: int) -> str:
    return chr(ord("A") + place - 1)


def _styles(day_format: str) -> str:
    formats = "".join(
        f'<xf numFmtId="{number}" fontId="0" fillId="0" borderId="0" xfId="0"/>' for number in (0, 0, 165)
    )
    return (
        f'<styleSheet xmlns="{MAIN}"><numFmts count="2"><numFmt numFmtId="164" formatCode="General"/>'
        f'<numFmt numFmtId="165" formatCode={quoteattr(day_format)}/></numFmts>'
        '<fonts count="1"><font><sz val="10"/><name val="Liberation Sans"/></font></fonts>'
        '<fills count="1"><fill><patternFill patternType="none"/></fill></fills>'
        '<borders count="1"><border/></borders>'
        '<cellStyleXfs count="1"><xf numFmtId="164" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
        f'<cellXfs count="3">{formats}</cellXfs>'
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
    )


def _relations(parts: Sequence[tuple[str, str]]) -> str:
    told = "".join(
        f'<Relationship Id="rId{number}" Type="{OFFICE}/{kind}" Target="{target}"/>'
        for number, (kind, target) in enumerate(parts, start=1)
    )
    return f'<Relationships xmlns="{PACKAGE}/relationships">{told}</Relationships>'


def _content_types() -> str:
    sheet = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    kinds = {
        "/xl/workbook.xml": f"{sheet}.sheet.main+xml",
        "/xl/worksheets/sheet1.xml": f"{sheet}.worksheet+xml",
        "/xl/sharedStrings.xml": f"{sheet}.sharedStrings+xml",
        "/xl/styles.xml": f"{sheet}.styles+xml",
    }
    told = "".join(f'<Override PartName="{name}" ContentType="{kind}"/>' for name, kind in kinds.items())
    return (
        f'<Types xmlns="{PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/>'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f"{told}</Types>"
    )
