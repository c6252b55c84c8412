"""How a fact of an order is told where it is not what it was: by what it is about, in plain words."""

from __future__ import annotations

LONGEST = 120  # letters of a fact that are shown


def told(fact: str, was: str | None, now: str | None) -> str | None:
    """In words, what of a fact is not as it was; None where it is.

    fact : name in the digest: tree T3, machine chipper, burning
    """
    if was == now:
        return None
    kind, _, name = fact.partition(" ")
    if kind == "call":
        return _arranged(name, was, now)
    if was is None or now is None:
        are = "are" if kind == "crew" else "is"
        named = f"the {name.replace('-', ' ')}" if kind == "machine" else name or fact
        return f"{named} {are} {'new on' if was is None else 'gone from'} the list."
    less, more = _apart(was, now)
    if not less and not more:
        return None  # the same in another order
    subject = _subject(fact)
    if less and more:
        return f"{subject} was given as {less} and is now {more}."
    return f"of {subject} it is now said besides: {more}." if more else f"of {subject} it is no longer said: {less}."


def _subject(fact: str) -> str:
    kind, _, name = fact.partition(" ")
    match kind:
        case "tree" | "crew":
            return name
        case "machine":
            return f"the {name.replace('-', ' ')}"
        case "felling":
            return f"the felling of {name}"
        case "brood":
            return f"what lives in {name}"
        case _:
            return f"what the inventory says of {fact}"


def _arranged(tree: str, was: str | None, now: str | None) -> str:
    if now is None:
        return f"what was arranged for {tree} is no longer on record: {was}."
    return f"arranged for {tree} is now: {now}{f'; it was: {was}' if was else ''}."


def _apart(was: str, now: str) -> tuple[str, str]:
    """Two texts without the parts that they share, cut to a length that can be read; empty where none is left."""
    mark = ";" if ";" in was + now else ","
    old, new = ([part.strip() for part in text.split(mark)] for text in (was, now))
    less, more = ([part for part in one if part not in other] for one, other in ((old, new), (new, old)))
    return _cut(f"{mark} ".join(less)), _cut(f"{mark} ".join(more))


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[:LONGEST].rsplit(' ', 1)[0]} ..."
