"""Lists and cards for the floor, as plain page text: they read on a phone, on paper and aloud."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.charts.floor import Step, about
from scheduler.api import words

if TYPE_CHECKING:
    from scheduler.api import ChaseRow, OrderRow, QueueRow, ScreenRow

STYLE = Path(__file__).with_name("lists.css")


def style() -> None:
    """The lists' look, once on a page."""
    st.html(STYLE)


def figures_html(figures: Iterable[tuple[str, str]]) -> str:
    """Figures, each with what it counts."""
    items = "".join(f"<div><dt>{escape(what)}</dt><dd>{escape(figure)}</dd></div>" for what, figure in figures)
    return f'<dl class="pw pw-figures">{items}</dl>'


def late_html(late: str) -> str:
    """The late mark with its words; "" where nothing is late."""
    return f'<span class="late">{escape(late).replace("late", "LATE", 1)}</span>' if late else ""


def now_html(row: QueueRow, now: datetime, number: tuple[int, int]) -> str:
    """What is on the press at this moment."""
    doing = "NOW, setting up" if now < row.print_at else "NOW, printing"
    return (
        f'<div class="pw pw-now"><div class="more">{doing}</div>'
        f'<div class="big">{escape(row.order_id)} {escape(row.location)} {late_html(row.late)}</div>'
        f"<div>{escape(row.client)}</div>"
        f'<div class="until">{row.pieces} pieces, until about {about(row.end_at, now)}</div>'
        f"<div>{_garments(row)}</div>{_print_of(number)}{_heads(row)}{_after(row)}</div>"
    )


def next_html(rows: Iterable[tuple[QueueRow, tuple[int, int]]], now: datetime) -> str:
    """Runs to come, one block each."""
    items = "".join(
        f'<li><div class="at">{about(row.set_up_at, now)}</div><div>'
        f"<b>{escape(row.order_id)} {escape(row.location)}</b> {late_html(row.late)}<br>"
        f"{escape(row.client)}, {_garments(row)}<br>"
        f"set-up {words.minutes(row.set_up_min)}: {escape('; '.join(row.changes))}<br>"
        f'<span class="more">prints from about {about(row.print_at, now)} to {about(row.end_at, now)}; '
        f"{escape(row.screens)}</span>{_print_of(number)}</div></li>"
        for row, number in rows
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def heads_html(row: QueueRow) -> str:
    """A run's heads by themselves."""
    return f'<div class="pw">{_heads(row)}</div>'


def screens_html(rows: Iterable[ScreenRow], now: datetime) -> str:
    """Work of the screen room, one block each; all reclaiming of one time together."""
    blocks: dict[tuple[str, datetime, int], list[ScreenRow]] = {}
    for number, row in enumerate(rows):
        blocks.setdefault((row.what, row.start_at, 0 if row.what == "reclaim" else number), []).append(row)
    return f'<div class="pw"><ul>{"".join(_screen_item(block, now) for block in blocks.values())}</ul></div>'


def _screen_item(block: Sequence[ScreenRow], now: datetime) -> str:
    first = block[0]
    title = f"{first.what} {words.counted(sum(row.screens for row in block), 'screen')}"
    body = "<br>".join(text for row in block for text in _screen_lines(row, now))
    return f'<li><div class="at">{about(first.start_at, now)}</div><div><b>{title}</b><br>{body}</div></li>'


def _screen_lines(row: ScreenRow, now: datetime) -> Iterator[str]:
    if row.what == "reclaim":
        yield escape(
            f"{row.design}, after {row.order_id} {row.location}" if row.design else f"{row.frames}, {row.note}"
        )
        return
    yield escape(f"{row.design}, for {row.order_id} {row.location}" if row.design else row.frames)
    if row.what == "burn":
        yield escape("; ".join(_screen_text(*one) for one in row.prints))
    if not row.design:
        yield escape(row.note)
    if row.needed_by:
        waits = f" for {escape(row.press_name)}" if row.press_name else ""
        yield f'<span class="more">needed by about {about(row.needed_by, now)}{waits}</span>'


def _screen_text(prints: str, mesh: int | None, frame: str) -> str:
    return ", ".join(text for text in (prints, f"mesh {mesh}" if mesh else "", frame) if text)


def steps_html(steps: Iterable[Step]) -> str:
    """Somebody's day, one line each."""
    items = "".join(
        f'<li><div class="at">{about(step.start_at, step.start_at)}</div><div><b>{escape(step.verb)}</b> '
        f"{escape(step.what)} {late_html(step.late)}<br>"
        f'<span class="more">{escape(step.place + ", " if step.place else "")}until about '
        f"{about(step.end_at, step.start_at)}</span></div></li>"
        for step in steps
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def _garments(row: QueueRow) -> str:
    return escape(words.listed([f"{pieces} {garment}" for garment, pieces, _ in row.garments]))


def _print_of(number: tuple[int, int]) -> str:
    return f'<div class="more">print {number[0]} of {number[1]} of this order</div>' if number[1] > 1 else ""


def _heads(row: QueueRow) -> str:
    """What stands in each head and what is done to it."""
    lines = "".join(
        f"<tr><td>{line.head}</td><td>{escape(line.prints)}</td><td>{line.mesh or ''}</td><td>{escape(line.ink)}</td>"
        f"<td>{escape(line.to_do)}</td></tr>"
        for line in row.all_heads
    )
    if not lines:
        return ""
    titles = "".join(f'<th scope="col">{title}</th>' for title in ("head", "prints", "mesh", "ink", "to do"))
    return f"<table><thead><tr>{titles}</tr></thead><tbody>{lines}</tbody></table>"


def _after(row: QueueRow) -> str:
    mix = row.batches and f"mix {row.batches}"
    told = [text for text in (row.flash and f"flash {row.flash}", row.slowed, mix, row.wash_up) if text]
    return f'<div class="more">{escape("; ".join(told))}</div>' if told else ""


def chase_html(rows: Iterable[ChaseRow]) -> str:
    """Whom to ring, most urgent first, one block each."""
    items = "".join(
        f'<li><div class="at">{escape(_by_when(row))}</div><div><b>{escape(row.order_id)} {escape(row.client)}</b>: '
        f"{escape(row.missing)}<br>ring the {escape(row.ring)}"
        f"{', expected ' + words.day_and_time(row.expected_at).removesuffix(' 00:00') if row.expected_at else ''}<br>"
        f'<span class="more">holds up {escape("; ".join(text for text in (row.holds_up, row.note) if text))}</span>'
        "</div></li>"
        for row in rows
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def _by_when(row: ChaseRow) -> str:
    by_when = row.needed_at or row.latest_at
    return "at once" if by_when is None else f"by {words.day_and_time(by_when)}"


def cautions_html(cautions: Iterable[str]) -> str:
    """The cautions that stand wherever the floor reads what to do."""
    return f'<div class="pw more"><p>{"<br>".join(escape(text) for text in cautions)}</p></div>'


def _leaves(row: OrderRow) -> str:
    ready = words.day_and_time(row.packed_at) if row.packed_at else ""
    return f"ready {ready}, must leave {words.day_and_time(row.must_leave_at) if row.must_leave_at else ''}"


def late_list_html(rows: Iterable[OrderRow]) -> str:
    """Orders that miss their date: mark, how much, when they are ready, and why."""
    items = "".join(
        f"<li><div>{late_html(row.late)}</div><div><b>{escape(row.order_id)} {escape(row.client)}</b>, "
        f"{row.pieces} pieces, {escape(row.firmness)}<br>"
        f"{_leaves(row)}<br>"
        f'<span class="more">why: {escape(row.why)}</span></div></li>'
        for row in rows
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def pencilled_html(rows: Iterable[OrderRow]) -> str:
    """Orders that wait for a yes: by when it is needed, and what comes of it."""
    items = "".join(
        f'<li><div class="at">{escape(row.order_id)}</div><div><b>{escape(row.why)}</b><br>'
        f"{escape(row.client)}, {row.pieces} pieces, {escape(row.locations)}<br>"
        f"{_leaves(row)}</div></li>"
        for row in rows
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def table_html(headings: Sequence[str], cells: Iterable[Sequence[object]]) -> str:
    """A table whose long texts run on to further lines; on a phone each row is a block, a heading before each cell."""
    titles = "".join(f'<th scope="col">{escape(title)}</th>' for title in headings)
    rows = "".join(
        "<tr>"
        + "".join(
            f'<td><span class="what">{escape(title)}</span>{escape(str(cell))}</td>' if cell != "" else "<td></td>"
            for title, cell in zip(headings, row, strict=True)
        )
        + "</tr>"
        for row in cells
    )
    return f'<div class="pw pw-rows"><table><thead><tr>{titles}</tr></thead><tbody>{rows}</tbody></table></div>'


def leaving_html(rows: Iterable[OrderRow]) -> str:
    """Orders that leave, one line each, the first to leave first."""
    items = "".join(
        f'<li><div class="at">{f"{row.leaves_at:%H:%M}" if row.leaves_at else ""}</div><div>'
        f"<b>{escape(row.order_id)} {escape(row.client)}</b>, {row.pieces} pieces {late_html(row.late)}<br>"
        f'<span class="more">packed {words.day_and_time(row.packed_at) if row.packed_at else ""}</span></div></li>'
        for row in sorted(rows, key=lambda row: (str(row.leaves_at), row.order_id))
    )
    return f'<div class="pw"><ul>{items}</ul></div>'


def not_planned_html(rows: Iterable[OrderRow]) -> str:
    """Orders that are not planned, and why."""
    items = "".join(
        f'<li><div class="at">{escape(row.order_id)}</div><div>'
        f"{escape(', '.join(text for text in (row.client, row.locations) if text))}<br>"
        f'<span class="more">{escape(row.why)}</span></div></li>'
        for row in rows
    )
    return f'<div class="pw"><ul>{items}</ul></div>'
