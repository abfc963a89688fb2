"""Pages to print as PDF, on A4 or Letter. An extra that needs WeasyPrint (".[pdf]")."""

from __future__ import annotations

from functools import cache

from scheduler.domain.shop import A4

IS_MISSING = 'run pip install -e ".[pdf]" in the program\'s folder, or print the pages from a browser'


class NoPdfError(RuntimeError):
    """The library that makes PDF files, or a library it needs, is not on this machine."""


@cache
def is_there() -> bool:
    """True where pages can be made into PDF on this machine."""
    try:
        import weasyprint
    except (ImportError, OSError):
        return False
    return bool(weasyprint.VERSION)


def page_pdf(page: str, size: str) -> bytes:
    """A page as PDF, nothing of it taken from anywhere else. Raises NoPdfError where it cannot be made here."""
    try:
        from weasyprint import CSS, HTML
        from weasyprint.urls import URLFetcher
    except (ImportError, OSError) as fault:  # OSError: the library is there, the system's text layout is not
        raise NoPdfError(IS_MISSING) from fault
    paper = CSS(string=f"@page {{ size: {'A4' if size == A4 else 'letter'} }}")
    made: bytes = HTML(string=page, url_fetcher=URLFetcher(allowed_protocols=())).write_pdf(stylesheets=[paper])
    return made
