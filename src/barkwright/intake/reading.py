"""What a typed answer means: from the words of a person to the value that an option would take."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction

from barkwright.intake.equipment import read_tools
from barkwright.intake.places import NoPlaceError, read_place, towns
from barkwright.intake.questions import UNKNOWN, Kind, Question
from barkwright.inventory.nearest import nearest_word
from barkwright.units import UNITS, NoAmountError, convert, parse_amount

_DO_NOT_KNOW = frozenset(
    (
        "dk", "idk", "unknown", "unsure", "don't know", "dont know", "do not know", "i don't know", "i dont know",
        "not known", "not sure", "no idea", "not looked", "no one looked", "nobody looked",
        "dunno", "i dunno", "no clue", "i have no idea", "i'm not sure", "im not sure", "i am not sure", "can't say",
    )
)  # fmt: skip
_FAR = frozenset(("far", "none", "no", "out of reach", "out-of-reach", "nothing", "far away"))
_ABOUT = re.compile(r"^(?:about|approximately|approx\.?|around|roughly|ca\.?|circa|~)\s*", re.I)
_FEET = {"imperial": "ft", "metric": "m"}
_INCHES = {"imperial": "in", "metric": "cm"}
LETTERS = 400  # longest answer; ours


class NoAnswerError(ValueError):
    """Text that does not answer the question; the message says what was expected."""


def read_answer(question: Question, text: str, units: str, on: date) -> str:
    """The value that `text` stands for, in the words of the inventory. Raises NoAnswerError.

    An amount without a unit is in that of `units`, which is written beside it. UNKNOWN stands for "don't know".
    """
    plain = " ".join(text.replace("’", "'").split())
    if not text.isprintable():
        raise NoAnswerError("there are control characters in it: type it again")
    if len(plain) > LETTERS:
        raise NoAnswerError(f"that is longer than {LETTERS} letters")
    low = plain.casefold().rstrip(".!")
    if is_unknown(plain):
        if question.unknown is None:
            return UNKNOWN
        plain = low = question.unknown
    if low in question.says.values():
        return low
    if low in question.says:
        return question.says[low]
    return _READ[question.kind](question, plain, units, on)


def is_unknown(text: str) -> bool:
    """Does the text say "don't know", in one of the ways in which people say it?"""
    return " ".join(text.replace("’", "'").split()).casefold().rstrip(".!") in _DO_NOT_KNOW


def stick_height_ft(stick_ft: float, eye_to_hand_ft: float, walked_ft: float) -> float:
    """Height of a tree that a stick held upright just covers, by similar triangles, on level ground.

    stick_ft : float  length of the stick above the hand [ft]
    eye_to_hand_ft : float  from the eye to the hand [ft]
    walked_ft : float  from the eye's place to the stem [ft]
    Returns: height [ft]
    """
    return walked_ft * stick_ft / eye_to_hand_ft


def across_in(girth_in: float) -> float:
    """Diameter of a round stem of that girth [in]."""
    return girth_in / math.pi


def _length(text: str, unit: str) -> str:
    """The text with the unit that it lacks, if it is a length at all."""
    plain = _ABOUT.sub("", text)
    try:
        amount = parse_amount(plain)
        if amount.unit is not None:
            convert(amount.number, amount.unit, "m")
    except NoAmountError as fault:
        raise NoAnswerError(f"'{text}' {fault.message}: {fault.hint}") from None
    except ValueError:
        units = ", ".join(name for name in UNITS if UNITS[name][0] == "length")
        raise NoAnswerError(f"'{text}' is no length; the units are {units}") from None
    return plain if amount.unit else f"{plain} {unit}"


def _distance(question: Question, text: str, units: str, on: date) -> str:
    if text.casefold().rstrip(".!") in _FAR:
        return "out-of-reach"
    if text.casefold() == "not-checked":
        return UNKNOWN
    try:
        return _length(text, _FEET[units])
    except NoAnswerError as fault:
        raise NoAnswerError(f"{fault}; or far, or don't know") from None


def _across(question: Question, text: str, units: str, on: date) -> str:
    return _length(text, _INCHES[units])


def _stem(question: Question, text: str, units: str, on: date) -> str:
    """`girth 52 in`, or `across 16.5 in` where it was measured straight across."""
    words = re.sub(r"\b(?:across|straight|dbh|diameter|wide|thick)\b", " ", text, flags=re.I).strip()
    round_it = re.sub(r"\b(?:around|round|girth|circumference)\b", " ", text, flags=re.I).strip()
    if words != text:
        return f"across {_length(words, _INCHES[units])}"
    return f"girth {_length(round_it, _INCHES[units])}"


def _height(question: Question, text: str, units: str, on: date) -> str:
    if not text.casefold().startswith("stick"):
        return _length(re.sub(r"\s*(?:tall|high)$", "", text), _FEET[units])
    parts = [part.strip() for part in re.split(r"[,;]", text[5:].strip(" :=,")) if part.strip()]
    if len(parts) != 3:
        raise NoAnswerError("write the stick, from eye to hand, and how far you walked: stick 2 ft, 28 in, 80 ft")
    stick, arm, walked = (_feet(_length(part, _FEET[units])) for part in parts)
    if min(stick, arm, walked) <= 0:
        raise NoAnswerError("all three lengths are more than nothing: stick 2 ft, 28 in, 80 ft")
    high = convert(Fraction(repr(stick_height_ft(stick, arm, walked))), "ft", _FEET[units])
    return f"{high:.1f}".removesuffix(".0") + f" {_FEET[units]}"


def _feet(text: str) -> float:
    amount = parse_amount(text)
    return convert(amount.number, amount.unit or "ft", "ft")


def _choice(question: Question, text: str, units: str, on: date) -> str:
    return _one_of(question, text)


def _choices(question: Question, text: str, units: str, on: date) -> str:
    parts = [part for part in re.split(r"\s*(?:[,;&+/]|\band\b)\s*", text) if part]
    if len(parts) == 1 and " " in text:
        parts = _spaced(question, text)
    found = dict.fromkeys(word for part in parts for word in _one_of(question, part).split(","))
    if not found:
        raise NoAnswerError(f"name one or more of {_listed(question)}")
    if "none" in found and len(found) > 1:
        raise NoAnswerError("none does not go with others: name them, or say none")
    return ",".join(found)


def _spaced(question: Question, text: str) -> list[str]:
    """The words one by one, where each is a choice; else the whole."""
    words = text.split()
    try:
        for word in words:
            _one_of(question, word)
    except NoAnswerError:
        return [text]
    return words


def _one_of(question: Question, text: str) -> str:
    low = text.casefold().strip()
    known = list(question.choices)
    if low in known or low in question.says.values():
        return low
    if low.replace(" ", "-") in known:
        return low.replace(" ", "-")
    if low in question.says:
        return question.says[low]
    if low.isdecimal() and low.isascii() and 1 <= int(low) <= len(known):
        return known[int(low) - 1]
    begin = [word for word in known if len(low) > 1 and word.startswith(low)]
    begin = begin or [word for word, meaning in question.choices.items() if meaning.casefold() == low]
    if len(begin) == 1:
        return begin[0]
    near = nearest_word(low, known)
    if near:
        raise NoAnswerError(f"'{text}' is not one of the words here: did you mean {near}?")
    raise NoAnswerError(f"'{text}' is not one of the words here: {_listed(question)}, or its number")


def _listed(question: Question) -> str:
    shown = (meaning if word in ("true", "false") else word for word, meaning in question.choices.items())
    return ", ".join(shown) + (", none" if "none" in question.says.values() and "none" not in question.choices else "")


def _number(question: Question, text: str, units: str, on: date) -> str:
    plain = re.sub(r"\s*(?:people|persons?|of us|hours?|h)$", "", text, flags=re.I)
    if not re.fullmatch(r"\d{1,9}(?:\.\d+)?", plain, re.ASCII):
        raise NoAnswerError(f"'{text}' is no number: write {question.example}")
    return f"{float(plain):g}"


def _money(question: Question, text: str, units: str, on: date) -> str:
    plain = re.sub(r"^(?:[A-Za-z]{3}\s+|\$\s*)|\s*(?:[A-Za-z]{3}|\$|(?:/|an?|per)\s*h(?:our)?)$", "", text)
    if not re.fullmatch(r"\d{1,9}(?:\.\d{1,2})?", plain, re.ASCII):
        raise NoAnswerError(f"'{text}' is no amount of money: write {question.example}")
    return plain


def _day(question: Question, text: str, units: str, on: date) -> str:
    if text.casefold() in ("today", "now", "at once"):
        return on.isoformat()
    if re.fullmatch(r"\d{4}-\d\d", text, re.ASCII):
        text += "-01"
    try:
        return date.fromisoformat(text if re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII) else "").isoformat()
    except ValueError:
        raise NoAnswerError(f"'{text}' is not a day: write year-month-day, like {question.example}") from None


def _year(question: Question, text: str, units: str, on: date) -> str:
    low = text.casefold()
    meant = {"this year": on.year, "this summer": on.year, "last year": on.year - 1, "last summer": on.year - 1}
    if low in meant:
        return str(meant[low])
    if low == "never" or re.fullmatch(r"\d{4}", text, re.ASCII):
        return low
    raise NoAnswerError(f"'{text}' is no year: write it like {question.example}, or never, or don't know")


def _place(question: Question, text: str, units: str, on: date) -> str:
    town = text.rpartition(", ")[2]
    try:
        spot = read_place(town if town in towns() else text)
    except NoPlaceError as fault:
        raise NoAnswerError(str(fault)) from None
    return f"{spot.latitude:g}, {spot.longitude:g}" + (f", {spot.town}" if spot.town else "")


def _text(question: Question, text: str, units: str, on: date) -> str:
    return text


def _tools(question: Question, text: str, units: str, on: date) -> str:
    found, fault = read_tools(text, question.id == "own")
    if fault is not None:
        raise NoAnswerError(fault)
    return "; ".join(found)


def _logs(question: Question, text: str, units: str, on: date) -> str:
    return "; ".join(_log(part, units) for part in re.split(r"[;]", text) if part.strip())


def _log(text: str, units: str) -> str:
    parts: Sequence[str] = [part.strip() for part in text.split(",")]
    count = [parts[3].replace(" ", "")] if len(parts) == 4 else []
    if len(parts) not in (3, 4) or (count and not re.fullmatch(r"x\d{1,4}", count[0], re.ASCII)):
        raise NoAnswerError(f"'{text.strip()}' is no log: write thick end, thin end, length, like 14.2, 12.9, 8")
    sizes = [_length(part, (_INCHES if end else _FEET)[units]) for part, end in zip(parts, (1, 1, 0), strict=False)]
    return ",".join((*sizes, *count))


_READ: dict[Kind, Callable[[Question, str, str, date], str]] = {
    "distance": _distance, "across": _across, "stem": _stem, "height": _height, "choice": _choice, "choices": _choices,
    "number": _number, "money": _money, "day": _day, "year": _year, "place": _place, "text": _text, "tools": _tools,
    "logs": _logs,
}  # fmt: skip
