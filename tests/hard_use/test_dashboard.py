"""The dashboard on a rough network: hostile texts, names and files, no password, many browsers, a full disk."""

from __future__ import annotations

import csv
import re
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard import jobs, kept, questions, serve
from dashboard.access import PASSWORD_VARIABLE
from dashboard.app import PAGES
from dashboard.parts.bringing import own_name
from dashboard.state import WEEK_VARIABLE
from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError
from tests.dashboard.test_pages import texts
from tests.dashboard.weeks import copied, planned
from tests.hard_use.browsers import plan_and_ask

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
HOSTILE = "![x](http://192.0.2.1/x.png) **b** <script>alert(1)</script> $\\alpha$ :red[x] [go](javascript:alert(2))"
NAMES = (
    "../../outside",
    "..\\..\\outside",
    "/etc/outside",
    "C:\\outside",
    "CON",
    "a/b",
    ".hidden",
    "x" * 120,
    "~",
    "%2e%2e",
)


def open_page(monkeypatch: pytest.MonkeyPatch, week: Path, name: str) -> AppTest:
    """A page of the dashboard of a week."""
    monkeypatch.setenv(WEEK_VARIABLE, str(week))
    page = AppTest.from_file(str(APP), default_timeout=60).run()
    return page.switch_page(f"views/{name}.py").run()


def hostile_week(place: Path) -> Path:
    """The one-person week with hostile texts wherever a client or the shop can type one, and a plan in use."""
    week = copied("solo", place)
    path = week / "orders.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        headings, *rows = csv.reader(lines)
    at = {heading: number for number, heading in enumerate(headings)}
    for row in rows:
        row[at["client"]] = f"{row[at['order']]} {HOSTILE}"
        row[at["note"]] = HOSTILE
    with path.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([headings, *rows])
    shop = (week / "shop.toml").read_text(encoding="utf-8")
    told = HOSTILE.replace("\\", "\\\\")
    (week / "shop.toml").write_text(
        shop.replace('name = "the press"', f'name = "{told}"').replace('name = "Nuala"', f'name = "{told}"'),
        encoding="utf-8",
    )
    folder = kept.new_folder(week)
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    clients = {one.order_id: one.client for one in inputs.orders}
    api.write_plan_folder(folder, workload.week, result.plan, api.plan_facts(workload.week, result), clients=clients)
    kept.use(week, folder)
    return week


class Tags(HTMLParser):
    """Tags and addresses of a page that a hostile text would add."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "img", "iframe", "a", "link") or any(name.startswith("on") for name, _ in attrs):
            self.found.append(tag)


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hostile week, made once: these tests only look at it."""
    return hostile_week(tmp_path_factory.mktemp("hostile"))


@pytest.mark.parametrize("name", [name for name, _, _ in PAGES])
def test_hostile_texts_are_shown_as_texts(monkeypatch: pytest.MonkeyPatch, hostile: Path, name: str) -> None:
    """On every page whatever a client typed formats nothing, links to nothing and loads nothing."""
    page = open_page(monkeypatch, hostile, name)
    assert not page.exception
    shown = [
        one.value
        for kind in ("markdown", "title", "header", "subheader", "info", "warning", "error", "success")
        for one in page.get(kind)
    ]
    labels = [one.label for kind in ("expander", "button", "tabs") for one in page.get(kind) if hasattr(one, "label")]
    for text in [*map(str, shown), *labels]:
        for sign in ("<script", "![x]", "[go](", "**b**", ":red[x]"):
            assert not re.search(r"(?<!\\)" + re.escape(sign), text), text[:300]


def test_hostile_texts_are_texts_on_paper(hostile: Path) -> None:
    """No page to print holds a tag, a picture or an address that came from a text somebody typed."""
    plan = kept.in_use(hostile)
    assert plan is not None
    inputs = api.read_week(plan.made_from)
    week = api.build_workload(inputs).week
    papers = api.floor_papers(inputs, week, api.read_plan(plan.plan_file, week)[0])
    pages = [one for one in papers if one.is_page]
    assert pages
    for one in pages:
        text = one.content.decode()
        tags = Tags()
        tags.feed(text)
        assert "script" not in tags.found
        assert "img" not in tags.found
        assert "javascript:" not in re.sub(r"&[a-z]+;|\[go\]\(javascript:alert\(2\)\)", "", text)


def test_names_do_not_leave_their_folder(tmp_path: Path) -> None:
    """Orders, designs, presses and people called like paths: every file written lies in the folder that was named."""
    week = copied("solo", tmp_path / "deep" / "down")
    shop = (week / "shop.toml").read_text(encoding="utf-8").replace('id = "press"', 'id = "../../outside"')
    (week / "shop.toml").write_text(shop, encoding="utf-8")
    inputs = api.read_week(week)
    names = dict(zip([one.order_id for one in inputs.orders], NAMES, strict=False))
    path = week / "orders.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        headings, *rows = csv.reader(lines)
    for row in rows:
        row[0] = names.get(row[0], row[0])
        row[headings.index("design")] = f"../{row[0][:40]} {row[headings.index('design')]}"
    with path.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([headings, *rows])
    before = {one for one in tmp_path.rglob("*") if one.is_file()}
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    out_folder = tmp_path / "deep" / "down" / "out"
    written = list(api.write_plan_folder(out_folder, workload.week, result.plan, api.plan_facts(workload.week, result)))
    written += api.write_floor_papers(out_folder, api.floor_papers(inputs, workload.week, result.plan))
    view = api.client_view(inputs, workload.week, result.plan, inputs.orders[0].order_id)
    for name in NAMES:
        written += api.write_client_page(out_folder / "clients", replace(view, order_id=name))
    new = {one for one in tmp_path.rglob("*") if one.is_file()} - before
    assert new == set(written)
    assert all(one.resolve().is_relative_to(out_folder.resolve()) for one in new)
    assert all(re.fullmatch(r"[a-z][a-z0-9_.-]{0,90}", one.name) for one in new)


def test_one_clients_page_is_never_anothers(tmp_path: Path) -> None:
    """Orders whose numbers differ in signs that no file name may hold have pages of their own."""
    names = ("a/1", "a-1", "a 1", "a:1", "a\\1", "A*1", "ä1", "../a-1", "a-1.", "x" * 300, "x" * 301, "?")
    files = {api.client_file(name) for name in names}
    assert len(files) == len(names)
    assert api.client_file("4119") == "order-4119.html"
    assert api.client_file("A-1") == api.client_file("a-1"), "one order, however it is spelled"


@pytest.mark.parametrize(
    "sent", [*NAMES, "", ".", "..", "a\x00b.csv", "..csv", "sheet.csv\n", "a" * 400 + ".xlsx", "/x/.csv"]
)
def test_a_sent_file_gets_a_name_of_ours(tmp_path: Path, sent: str) -> None:
    """However a browser calls the file it sends, it lies in its own folder under a plain short name."""
    path = tmp_path / own_name(sent)
    path.write_bytes(b"order\n")
    assert path.resolve().parent == tmp_path.resolve()
    assert len(path.name) < 100
    assert own_name("our orders (May).xlsx") == "our orders (May).xlsx"


def test_what_is_sent_is_limited_in_size_and_kind() -> None:
    """The server takes no more than a sheet is read of, and every place where files are taken names their kinds."""
    assert f"--server.maxUploadSize={serve.MOST_UPLOAD_MB}" in serve.command(8610)
    code = "\n".join(path.read_text(encoding="utf-8") for path in (APP.parent).rglob("*.py"))
    takers = re.findall(r"st\.(?:file_uploader|camera_input|audio_input)\((.*)", code)
    assert takers
    assert all("type=[" in one for one in takers)
    assert "unsafe_allow_html" not in code


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        *((name, None) for name, _, _ in PAGES),
        *(("today", typed) for typed in ("", "wrong", "abcd-efgh-jkm", "abcd-efgh-jkmn ")),
    ],
)
def test_no_page_shows_anything_without_the_password(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str, typed: str | None
) -> None:
    """Every address asks for the password and nothing else; the right one, with a blank after it, opens the page."""
    monkeypatch.setattr("dashboard.access.WAIT_S", 0.0)
    monkeypatch.setenv(PASSWORD_VARIABLE, "abcd-efgh-jkmn")
    page = open_page(monkeypatch, planned("solo", tmp_path), name)
    if typed is not None:
        page.text_input[0].set_value(typed)
        page.button[0].click().run()
    is_in = typed is not None and typed.strip() == "abcd-efgh-jkmn"
    assert ([one.value for one in page.title] == ["Password"]) != is_in
    assert ("Quillbeck" in texts(page) or len(page.title) > 1 or bool(page.markdown)) == is_in


def test_the_server_hands_out_nothing_of_the_week_without_the_password(tmp_path: Path) -> None:
    """Whatever is asked of the server by plain requests, no client, order or setting of the week comes back."""
    week = planned("solo", tmp_path)
    port = serve.free_port()
    log = (tmp_path / "log.txt").open("wb")
    addresses = [f"/{address}" for _, _, address in PAGES]
    odd = ["/_stcore/host-config", "/_stcore/metrics", "/media/x", "/app/static/x", "/../../orders.csv", "/orders.csv"]
    with subprocess.Popen(
        serve.command(port), env=serve.environment(week, "abcd-efgh-jkmn"), stdout=log, stderr=subprocess.STDOUT
    ) as server:
        try:
            ends_at = time.monotonic() + 60
            while not _answer(port, "/_stcore/health"):
                assert time.monotonic() < ends_at
                time.sleep(0.1)
            for address in [*addresses, *odd, "/plans/in-use", "/shop.toml", "/%2e%2e/shop.toml"]:
                answer = _answer(port, address)
                assert not any(
                    word in answer for word in ("Quillbeck", "Nuala", "Brass Otters", "otter tour", "stated_rate")
                )
        finally:
            server.terminate()
    log.close()


def _answer(port: int, address: str) -> str:
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}{address}", timeout=5) as answer:
            return str(answer.read().decode("utf-8", "replace"))
    except urllib.error.HTTPError as refused:
        return refused.read().decode("utf-8", "replace")
    except OSError:
        return ""


def test_browsers_that_plan_and_ask_at_once_are_all_answered(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Of those who start a plan at once one starts it and all watch it; questions wait their turn, and none is lost."""
    monkeypatch.setattr(questions, "SECONDS", 0.2)
    found = plan_and_ask(planned("solo", tmp_path), 3, within_s=120)
    assert len(found.plan_folders) == 1
    assert found.answered == 3
    assert found.most_at_once <= questions.AT_ONCE


def test_an_answer_is_not_taken_on_another_plan(tmp_path: Path) -> None:
    """Somebody put another plan into use meanwhile: the answer is refused with what to do, and nothing is changed."""
    week = planned("solo", tmp_path)
    inputs = api.read_week(week)
    order = inputs.orders[0].order_id
    question = questions.ask(week, inputs, "more", [("pieces", {"order": order, "pieces": "80"})], None)
    used = kept.in_use(week)
    assert used is not None
    other = kept.new_folder(week)
    (other / "plan.json").write_bytes(used.plan_file.read_bytes())
    kept.use(week, other)
    before = kept.stamp(week)
    with pytest.raises(InputError, match="another plan has come into use since it was asked; forget it and ask again"):
        questions.take(week, inputs, question, None)  # type: ignore[arg-type]
    assert kept.stamp(week) == before
    questions.forget(week, question)


def test_a_full_disk_is_one_sentence_on_the_page(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, at_limit: Callable[[int], None]
) -> None:
    """Starting a plan where nothing can be written says so; the plan in use stays, and nothing is in the making."""
    week = planned("solo", tmp_path)
    used = kept.in_use(week)
    page = open_page(monkeypatch, week, "new_plan")
    at_limit(10)
    page.button[0].click().run()
    assert not page.exception
    assert [one.value for one in page.error if "cannot be written" in one.value]
    assert kept.in_use(week) == used
    assert jobs.in_work(week) is None


def test_a_planner_that_is_killed_leaves_the_plan_in_use(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The process that plans is killed: the page says that planning ended without a result and nothing was changed."""
    week = planned("solo", tmp_path)
    used = kept.in_use(week)
    folder = jobs.start(week, seconds=60)
    jobs._CHILDREN[folder].kill()
    jobs._CHILDREN[folder].wait()
    page = open_page(monkeypatch, week, "new_plan")
    assert "Planning ended without a result. Nothing was changed." in [one.value for one in page.error]
    assert kept.in_use(week) == used
