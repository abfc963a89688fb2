"""Files as hard use leaves them: bytes lost, cells swapped, encodings mixed, letters that only look right.

Everything is drawn from a seed: the same number spoils the same file in the same way on every machine.
"""

from __future__ import annotations

import csv
import io
import json
import random
import re
import zipfile
from collections.abc import Callable
from typing import Any

HOSTILE = (
    *("", " ", "?", "-1", "0", "-144", "1e999", "nan", "inf", "99999999999999999999", "0.0000001", "1,200", "1.200,5"),
    *("1900-01-01", "9999-12-31", "0001-01-01", "10000-01-01", "31/02/2026", "02/13/2026", "13/02/2026", "3/4/26"),
    *("2026-03-29 01:30", "2026-10-25 02:30", "2026-03-08 02:30", "1900-01-01 00:00", "9999-12-31 23:59", "24:00"),
    *("25:61", "00:00-24:00", "18:00-06:00", "16:00", "mon-fri", "sun-mon", "in", "ok", "yes", "no"),
    *("=1+1", "+1", "@SUM(A1)", "=HYPERLINK(\"x\",\"y\")", "-cmd", "<script>alert(1)</script>", "{{7*7}}", "${x}"),
    *("../../etc/passwd", "..\\..\\x", "C:\\x", "CON", "nul.csv", "a/b", "a:b", "x" * 3000, "white, " * 60),
    *("\u202etxet", "\u200b", "\ufeff", "١٢", "½", "e\u0301", "\U0001f455", "а", "Ꮇ", "NaN", "None", "null", "[]"),
    *("white x999", "white base", "white x0", "white x-2", "20x24", "0x0", "-1 in", "1e9 ft", "7 s", "320 degF"),
    *("-300 degF", "5 parsec", "1 / 0 s", "10 ft ** 9 ** 9", "two", "S 20, M 60", "600+400", "1+1+1+1", "0+144", "+"),
)  # fmt: skip
"""Texts that do not belong where they are put, and some that might."""

LOOK_ALIKE = str.maketrans("aceopxyABCEHKMOPTX", "асеорхуАВСЕНКМОРТХ")
"""Latin letters and the Cyrillic ones that cannot be told from them on a screen."""

BITS = (
    b'"',
    b",",
    b"\n",
    b"\r",
    b"\x00",
    b"\xff",
    b"\xef\xbb\xbf",
    b"=",
    b"[",
    b"]",
    b"[[",
    b"{",
    b"'",
    b"#",
    b"\x1b[2J",
)
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "cp1252", "latin-1", "utf-32", "shift_jis", "cp437", "utf-7")


def some_text(dice: random.Random) -> str:
    """A hostile text, or a few letters from anywhere."""
    if dice.random() < 0.8:
        return dice.choice(HOSTILE)
    return "".join(
        chr(dice.choice((dice.randrange(32, 127), dice.randrange(160, 0x2FFF)))) for _ in range(dice.randint(1, 9))
    )


def mangled_bytes(dice: random.Random, raw: bytes) -> bytes:
    """One to four injuries: bits flipped, a piece lost, doubled, moved, cut off or put in."""
    for _ in range(dice.randint(1, 4)):
        at, length = dice.randrange(len(raw) + 1), dice.choice((1, 2, 8, 60, 400))
        piece = raw[at : at + length]
        injury = dice.randrange(6)
        if injury == 0:
            flipped = bytes(byte ^ (1 << dice.randrange(8)) if dice.random() < 0.3 else byte for byte in piece)
            raw = raw[:at] + flipped + raw[at + length :]
        elif injury == 1:
            raw = raw[:at] + raw[at + length :]
        elif injury == 2:
            raw = raw[:at] + piece * dice.randint(2, 5) + raw[at:]
        elif injury == 3:
            goes = dice.randrange(len(raw) + 1)
            raw = raw[:goes] + piece + raw[goes:]
        elif injury == 4 and dice.random() < 0.3:
            raw = raw[:at]
        else:
            put_in = dice.choice((*BITS, some_text(dice).encode("utf-8", "replace"), dice.randbytes(4)))
            raw = raw[:at] + put_in + raw[at:]
    return raw


def mangled_rows(dice: random.Random, rows: list[list[str]]) -> list[list[str]]:
    """A table with one to six injuries to its cells, rows and columns."""
    rows = [list(row) for row in rows]
    for _ in range(dice.randint(1, 6)):
        row = dice.choice(rows)
        injury = dice.randrange(12)
        if injury < 6 and row:
            row[dice.randrange(len(row))] = some_text(dice)
        elif injury == 6:
            rows.insert(dice.randrange(len(rows) + 1), list(row))
        elif injury == 7 and len(rows) > 2:
            rows.remove(row)
        elif injury == 8 and row:
            at = dice.randrange(len(row))
            row[at] = row[at].translate(LOOK_ALIKE)
        elif injury == 9 and row:
            row.insert(dice.randrange(len(row) + 1), row[-1])
        elif injury == 10 and row:
            del row[dice.randrange(len(row))]
        elif row:
            other = dice.choice(rows)
            if other:
                row[dice.randrange(len(row))] = dice.choice(other)
    return rows


def mangled_csv(dice: random.Random, text: str) -> bytes:
    """A CSV file whose cells were mangled, saved by whatever program with whatever habits."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=dice.choice(",,,;\t|"), lineterminator=dice.choice(("\n", "\n", "\r\n", "\r")))
    writer.writerows(mangled_rows(dice, list(csv.reader(io.StringIO(text)))))
    encoding = dice.choice(ENCODINGS) if dice.random() < 0.3 else "utf-8"
    raw = out.getvalue().encode(encoding, "replace")
    return mangled_bytes(dice, raw) if dice.random() < 0.1 else raw


def toml_value(dice: random.Random) -> str:
    """Something that may stand behind an equals sign, or may not."""
    text = some_text(dice).replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ")
    return dice.choice(
        (
            *(f'"{text}"', f'"{text}"', f'"{text}"', text, "-5", "0", "1e400", "nan", "true", "07:00:00", "[]", "{}"),
            *("9" * 40, "[1, [2]]", '{ a = "b" }', "9999-12-31T23:59:59Z", "1900-01-01", '"0 min"', '"1000000 min"'),
        )
    )  # fmt: skip


def mangled_toml(dice: random.Random, text: str) -> bytes:
    """Settings with one to four values, lines or sections changed, lost or doubled."""
    lines = text.splitlines()
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(lines))
        injury = dice.randrange(7)
        name, sign, _ = lines[at].partition("=")
        if injury < 4 and sign:
            within = list(re.finditer(r'"[^"]*"', lines[at]))
            if "{" in lines[at] and within:
                one = dice.choice(within)
                lines[at] = lines[at][: one.start()] + toml_value(dice) + lines[at][one.end() :]
            else:
                lines[at] = f"{name}= {toml_value(dice)}"
        elif injury == 4:
            del lines[at]
        elif injury == 5:
            lines.insert(dice.randrange(len(lines)), lines[at])
        elif sign:
            lines[at] = f"{name.rstrip().translate(LOOK_ALIKE)} {sign} {toml_value(dice)}"
        lines = lines or [""]
    raw = "\n".join(lines).encode("utf-8", "replace")
    return mangled_bytes(dice, raw) if dice.random() < 0.1 else raw


def mangled_json(dice: random.Random, text: str) -> bytes:
    """A plan file with one to four of its values changed, lost or doubled; now and then its bytes."""
    if dice.random() < 0.25:
        return mangled_bytes(dice, text.encode())
    document = json.loads(text)
    for _ in range(dice.randint(1, 4)):
        within, key = dice.choice(_json_places(document))
        injury = dice.randrange(4)
        if injury == 0:
            del within[key]
        elif injury == 1 and isinstance(within, list):
            within.insert(key, within[key])
        else:
            within[key] = _json_value(dice, within[key])
        if not _json_places(document):
            break
    return json.dumps(document, ensure_ascii=False).encode("utf-8", "replace")


def _json_places(document: Any) -> list[tuple[Any, Any]]:
    found: list[tuple[Any, Any]] = []
    todo = [document]
    while todo:
        one = todo.pop()
        keys = list(one) if isinstance(one, dict) else range(len(one)) if isinstance(one, list) else ()
        found += [(one, key) for key in keys]
        todo += [one[key] for key in keys]
    return found


def _json_value(dice: random.Random, old: Any) -> Any:
    if isinstance(old, int) and dice.random() < 0.6:
        return old + dice.choice((-1, 1, -100000, 100000, 10**30, -(10**9)))
    return dice.choice((None, -1, 0, 1.5, 10**30, True, "", some_text(dice), [], {}, [1, "a", None], {"kind": "print"}))


def mangled_zip(dice: random.Random, raw: bytes) -> bytes:
    """A workbook with one of its packed parts mangled, lost or written twice, and packed again."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as packed, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as again:
        hurt = dice.choice(packed.namelist())
        for name in packed.namelist():
            content = packed.read(name)
            if name == hurt:
                if dice.random() < 0.15:
                    continue
                content = mangled_bytes(dice, content)
            again.writestr(name, content)
    return out.getvalue()


MANGLERS: dict[str, Callable[[random.Random, str], bytes]] = {
    ".csv": mangled_csv,
    ".toml": mangled_toml,
    ".json": mangled_json,
}
"""How a file is mangled, by how its name ends."""
