"""The picture of the rooms in DEVELOPERS.md, drawn from what the code imports.

    python -m tests.rooms_picture        writes scenarios/pictures/rooms.svg anew

Rooms stand in rows: each below all the rooms that import it. A line goes down from a room to one it imports; lines
that follow from others (the transitive ones) are left out.
"""

from __future__ import annotations

from html import escape
from math import fsum
from pathlib import Path

import networkx as nx

from tests.test_architecture import DASHBOARD, PACKAGE, dashboard_modules, imports_of, modules, room_of

PICTURE = PACKAGE.parent / "scenarios" / "pictures" / "rooms.svg"
WIDTH, ROW, BOX_HEIGHT, MARGIN, LETTER = 1180, 78, 30, 20, 7.6
INK, LINE, PAPER, SHADE = "#20262B", "#8A939B", "#FFFFFF", "#F3F1EA"


def imports_between_rooms() -> nx.DiGraph:
    """An arrow from each room to every other room that one of its files imports; the dashboard is one room."""
    graph = nx.DiGraph()
    sources = [(room_of(path), path) for path in modules()]
    sources += [(DASHBOARD.name, path) for path in dashboard_modules()]
    for room, path in sources:
        graph.add_node(room)
        for _, name in imports_of(path):
            first, *rest = name.split(".")
            if first == "scheduler" and rest and rest[0] != room:
                graph.add_edge(room, rest[0])
    graph.remove_nodes_from([room for room in ("__init__", "__main__") if room in graph])
    return graph


def rows_of(graph: nx.DiGraph) -> list[list[str]]:
    """Rooms row by row, from those nobody imports down to those that import nothing."""
    return [sorted(row) for row in nx.topological_generations(graph)]


def picture(graph: nx.DiGraph) -> str:
    """The drawing as SVG: the same imports are always the same text."""
    rows = rows_of(graph)
    height = ROW * len(rows) + 2 * MARGIN
    places = {}
    for number, row in enumerate(rows):
        widths = [LETTER * len(room) + 22 for room in row]
        # fsum: Python 3.12 and later add floats up otherwise than 3.11 does, and points on the border of a pixel move.
        gap = (WIDTH - 2 * MARGIN - fsum(widths)) / (len(row) + 1)
        left = MARGIN + gap
        for room, width in zip(row, widths, strict=True):
            places[room] = (left, MARGIN + number * ROW, width)
            left += width + gap
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        ' font-family="DejaVu Sans Mono, monospace" font-size="12.5">',
        "<title>Rooms of Pressweek: a line goes down from a room to one it imports</title>",
        f'<rect width="{WIDTH}" height="{height}" fill="{PAPER}"/>',
    ]
    for room, other in sorted(nx.transitive_reduction(graph).edges):
        (x1, y1, w1), (x2, y2, w2) = places[room], places[other]
        x1, x2, bottom = x1 + w1 / 2, x2 + w2 / 2, y1 + BOX_HEIGHT
        middle = (bottom + y2) / 2
        parts.append(
            f'<path d="M{x1:.0f} {bottom:.0f}C{x1:.0f} {middle:.0f} {x2:.0f} {middle:.0f} {x2:.0f} {y2:.0f}"'
            f' fill="none" stroke="{LINE}"/>'
        )
    for room, (x, y, width) in sorted(places.items()):
        parts.append(
            f'<rect x="{x:.0f}" y="{y:.0f}" width="{width:.0f}" height="{BOX_HEIGHT}" rx="4"'
            f' fill="{SHADE}" stroke="{INK}"/>'
            f'<text x="{x + width / 2:.0f}" y="{y + 20:.0f}" text-anchor="middle" fill="{INK}">{escape(room)}</text>'
        )
    return "\n".join([*parts, "</svg>"]) + "\n"


def main(path: Path = PICTURE) -> None:
    """Draw it anew."""
    path.write_text(picture(imports_between_rooms()), encoding="utf-8")


if __name__ == "__main__":
    main()
