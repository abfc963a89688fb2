"""What shops call the columns of their own sheets: our choice of everyday words, no source."""

from __future__ import annotations

from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key

GARMENT_COLOUR, STATUS, TIME_DUE = "garment_colour", "status", "time_due"
OWN_TARGETS = {
    GARMENT_COLOUR: "the garment's colour",
    STATUS: "how far it is",
    TIME_DUE: "the clock time it is due",
}
"""What a column of theirs may hold that has no heading of its own here: it becomes part of another cell."""

NOT_READ = "not_read"
"""A column that is none of ours, whatever its words look like."""

WORDS: dict[str, tuple[str, ...]] = {
    "order": (
        "order no", "order number", "order id", "order #", "order nr", "no", "nr", "number", "#", "id", "ref",
        "reference", "our ref", "invoice", "invoice no", "invoice #", "invoice number", "ticket", "ticket no",
        "work order", "wo", "wo #", "so", "so #", "sales order", "po", "po #", "po number", "docket",
        "job", "job no", "job #", "job number", "job id",
    ),
    "client": (
        "customer", "customer name", "client name", "account", "account name", "company", "organisation",
        "organization", "buyer", "sold to", "who", "name", "for",
    ),
    "due": (
        "due date", "date due", "due by", "due on", "needed", "needed by", "need by", "need date", "required",
        "required by", "required date", "ship", "ship by", "ship date", "ship on", "ships", "leaves", "must leave",
        "leave by", "deadline", "delivery", "delivery date", "deliver by", "pick up", "pickup", "pick up date",
        "pickup date", "out", "out by", "finish by", "completion date", "target date", "date",
    ),
    "in_hands": (
        "in hand", "in hands date", "in hands by", "in hand date", "event", "event date", "arrive by",
        "must arrive", "must arrive by", "arrival date",
    ),
    "garment": (
        "garments", "item", "items", "product", "product name", "style", "style name", "shirt", "shirts", "shirt type",
        "apparel", "goods", "blank", "blank type", "article", "description", "item description", "garment type",
        "what", "what on", "substrate", "material",
    ),
    "shade": ("light/dark", "light or dark", "dark/light", "dark or light", "light dark", "l/d", "d/l"),
    "pieces": (
        "qty", "quantity", "quantities", "pcs", "pc", "piece", "piece count", "count", "total", "total qty",
        "total pcs", "total pieces", "total quantity", "units", "amount", "how many", "shirts qty", "garment qty",
        "order qty", "num", "# pcs", "# pieces", "no of pieces", "no of shirts", "number of pieces", "ordered",
    ),
    "location": (
        "placement", "print placement", "position", "print position", "print location", "print locations", "locations",
        "placements", "side", "where", "print area", "area", "imprint location", "imprint", "spot", "loc",
        "print", "location/s",
    ),
    "inks": (
        "ink", "ink colours", "ink colors", "ink colour", "ink color", "colours", "colors", "print colours",
        "print colors", "imprint colours", "imprint colors", "# colours", "# colors", "no of colours", "no of colors",
        "number of colours", "number of colors", "pms", "pantone", "pantones", "cols", "screens",
    ),
    "blanks": (
        "blanks in", "blanks here", "blanks arrive", "blanks due", "blanks eta", "goods in", "goods arrived",
        "goods received", "goods status", "garments in", "garments here", "garments arrived", "garments received",
        "stock", "stock in", "stock status", "received", "arrived", "eta", "shirts in", "shirts here", "apparel in",
        "product in", "check in", "checked in", "goods eta", "arrival",
    ),
    "art": (
        "art status", "artwork status", "art ok", "art approved", "artwork approved", "art approval",
        "artwork approval", "proof", "proof status", "proof ok", "proof approved", "approved", "approval status",
        "film",
        "films", "seps", "art ready",
    ),
    "deposit": (
        "deposit paid", "deposit received", "deposit in", "deposit ok", "deposit status", "down payment received",
    ),
    "design": (
        "design name", "design no", "design #", "design number", "design code", "art name", "art no", "art #",
        "art number", "art file", "artwork name", "artwork no", "artwork #", "artwork file", "logo", "graphic",
        "print name", "job name", "title", "design id", "film no", "screen no", "repeat of", "reorder of",
    ),
    "firm": (
        "priority", "rush", "urgent", "hot", "how firm", "firmness", "importance", "urgency", "hard date",
    ),
    "press": ("machine", "printer", "press no", "press #", "on press", "equipment"),
    "sizes": ("size", "size breakdown", "size run", "size split", "breakdown", "size spread", "size scale"),
    "mesh": ("mesh count", "screen mesh", "mesh counts"),
    "note": (
        "notes", "comment", "comments", "remark", "remarks", "special instructions", "instructions", "memo", "info",
        "details", "production notes", "internal notes",
    ),
    "carrier": (
        "ship via", "via", "shipping", "shipping method", "ship method", "delivery method", "courier", "freight",
        "how shipped", "shipped by", "dispatch",
    ),
    "family": ("ink type", "ink system", "type of ink", "ink family"),
    "counted": ("counted in", "count ok", "counted?"),
    "from_client": ("customer supplied", "client supplied", "supplied by customer", "own garments", "cust supplied"),
    "width": ("print width", "width in", "w"),
    "height": ("print height", "height in", "h"),
    "coverage": ("ink coverage",),
    "mock_up": ("mockup", "mock up no", "mockup no", "mock up file", "mockup file"),
    "frame": ("frame size", "screen size"),
    "pallet": ("platen", "platen size", "pallet size", "board"),
    "print_after": ("printed after",),
    "before": ("before printing", "before print"),
    "after": ("after printing", "after print", "other work", "extra work"),
    "split": ("split run", "split into"),
    "approval": ("press approval", "press check", "approves at press"),
    "base": ("underbase", "white base", "ub", "base?"),
    "rate": ("pcs/h", "pcs per hour", "pieces an hour", "speed"),
    "run": ("run time", "print time"),
    "set_up": ("setup", "set up time", "setup time", "set-up time"),
    "late": ("penalty", "late fee", "late cost"),
    "finish": ("finishing time", "packing time"),
    GARMENT_COLOUR: (
        "garment color", "garment colour", "shirt color", "shirt colour", "item color", "item colour", "blank color",
        "blank colour", "product color", "product colour", "fabric color", "fabric colour", "tee color", "tee colour",
        "goods color", "goods colour", "style color", "style colour", "apparel color", "apparel colour",
    ),
    STATUS: (
        "status", "state", "stage", "progress", "order status", "production status", "job status", "done", "printed",
        "shipped",
    ),
    TIME_DUE: ("due time", "time", "ship time", "pick up time", "pickup time", "time needed", "by when"),
    NOT_READ: (
        "price", "unit price", "total price", "cost", "sales rep", "rep", "sales", "email", "e-mail", "phone",
        "address",
        "paid", "balance", "deposit amount", "order date", "date ordered", "entered", "date in", "ordered on",
        "entered by",
        "sku", "invoice date", "week", "day", "margin", "terms", "date received", "contact",
    ),
}  # fmt: skip
"""Words by the heading of ours they stand for; the first ones are the clearest."""

UNCLEAR: dict[str, tuple[str, ...]] = {
    "color": ("inks", GARMENT_COLOUR),
    "colour": ("inks", GARMENT_COLOUR),
    "artwork": ("design", "art"),
    "art": ("art", "design"),
    "print": ("location", "design"),
    "type": ("garment", "kind", "family"),
    "ship": ("due", "carrier"),
    "delivery": ("due", "carrier"),
    "event": ("in_hands", "design"),
    "stock": ("blanks", "garment"),
    "screens": ("inks", "frame"),
    "name": ("client", "design"),
    "ordered": ("pieces", "blanks"),
    "out": ("due", STATUS),
    "time": (TIME_DUE, "run"),
    "pick_up": ("due", "carrier"),
    "pickup": ("due", "carrier"),
    "shipping": ("carrier", "due"),
    "description": ("garment", "design", "note"),
    "total": ("pieces", NOT_READ),
    "amount": ("pieces", NOT_READ),
    "number": ("order", "pieces"),
    "deposit": ("deposit", NOT_READ),
    "press": ("press", "location"),
}
"""Words that mean one thing in one shop and another in the next: their cells decide, or whoever is asked."""

SIZES = (
    "xxs", "xs", "s", "m", "l", "xl", "xxl", "xxxl", "2xl", "3xl", "4xl", "5xl", "2x", "3x", "4x", "sm", "med", "lg",
    "small", "medium", "large", "yxs", "ys", "ym", "yl", "yxl", "os", "one_size",
)  # fmt: skip
"""Headings of columns that each hold the pieces of one size."""


def targets_by_word() -> dict[str, tuple[str, ...]]:
    """What each word may mean, by its key; the clearest first."""
    found: dict[str, tuple[str, ...]] = {name: (name,) for name in COLUMNS[ORDERS]}
    for target, words in WORDS.items():
        for word in words:
            key = word_key(word)
            if target not in found.get(key, ()):
                found[key] = (*found.get(key, ()), target)
    return found | UNCLEAR


def word_key(text: str) -> str:
    """What two spellings of a heading have in common; "#" counts as a word."""
    return heading_key(text.replace("#", " # ").replace("#", "no"))
