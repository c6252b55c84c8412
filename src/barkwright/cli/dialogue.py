"""What the questions look like at a terminal: wrapped to its width, in plain letters, and how a line is read."""

from __future__ import annotations

import contextlib
import shutil
import textwrap
from collections.abc import Mapping

from barkwright.brood.look import look_book
from barkwright.cli import files
from barkwright.cli.errors import FAILED, StopError
from barkwright.intake.interview import Interview, Step, empty_answer, known_answers, steps, tree_count
from barkwright.intake.places import towns
from barkwright.intake.questions import UNKNOWN, Question
from barkwright.intake.reading import across_in
from barkwright.output.names import printable
from barkwright.units import convert, parse_amount

WIDEST = 80
NARROWEST = 24
KEYS = "?, don't know, back, quit"


def say(text: str = "", indent: int = 0) -> None:
    """A paragraph, wrapped to the terminal."""
    width = min(max(shutil.get_terminal_size().columns, NARROWEST), WIDEST)
    pad = " " * indent
    lines = textwrap.wrap(printable(text), width - 1, initial_indent=pad, subsequent_indent=pad, break_on_hyphens=False)
    files.write("\n".join(lines) + "\n", "-")


def read_line(prompt: str = "> ") -> str:
    """A line as it was typed. Raises EOFError at the end of input."""
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401  # it lets `input` take arrow keys
    try:
        return input(prompt)
    except UnicodeDecodeError:
        return "\ufffd\0"  # refused like other control characters
    except (OSError, ValueError) as fault:
        raise StopError(f"the terminal cannot be read: {fault}", FAILED) from None


def show_question(interview: Interview, step: Step) -> None:
    """The question with its meaning, how to find out, and an example."""
    question = step.question
    ahead = steps(interview, likely=True)
    number = next((n for n, one in enumerate(ahead, 1) if one.key == step.key), len(ahead))
    tree = f"Tree T{step.tree}. " if question.of == "tree" and tree_count(interview) > 1 else ""
    say()
    say(f"Question {number} of about {max(len(ahead), number)}. {tree}{question.topic}")
    say(question.ask)
    again = step.tree > 1  # the first tree has said the rest
    if not again:
        say(question.means, 2)
    if not question.bare:
        for place, (word, meaning) in enumerate(question.choices.items(), 1):
            say(f"{place} {_choice(word, meaning)}", 4)
    if question.how and not again:
        say(f"How: {_filled(question.how, interview, step.tree)}", 2)
    say(f"Example: {question.example}", 2)
    default = empty_answer(interview, step)
    if default is not None:
        verb = "keeps" if step.key in interview.answers else "means"
        say(f"An empty line {verb}: {in_words(question, default)}", 2)
    say(f"({KEYS})", 2)


def show_help(interview: Interview, step: Step) -> None:
    """More about a question, for whoever typed a question mark."""
    question = step.question
    if step.tree > 1:
        say(question.means, 2)
        say(_filled(question.how, interview, step.tree), 2)
    if question.more:
        say(_filled(question.more, interview, step.tree), 2)
    if question.choices and not question.bare:
        say("Type a word or its number" + (", several with commas." if question.kind == "choices" else "."), 2)
    across, along = ("centimetres", "metres") if interview.units == "metric" else ("inches", "feet")
    if question.kind in ("distance", "across", "stem", "height", "logs"):
        other = "imperial for inches and feet" if interview.units == "metric" else "metric for centimetres and metres"
        say(f"Units: 16.5 in, 42 cm, 12' 6\". Without one: {across} across, {along} along; type {other}.", 2)
    say("Type don't know if you do not know it. back goes to the question before, quit stops and keeps the answers.", 2)


def show_answers(interview: Interview) -> None:
    """All answers, numbered."""
    say()
    say("Your answers:")
    many = tree_count(interview) > 1
    for number, step in enumerate(steps(interview), 1):
        tree = f"T{step.tree} " if many and step.question.of == "tree" else ""
        value = in_words(step.question, interview.answers.get(step.key, UNKNOWN))
        say(f"{number:>3} {tree}{step.question.label}: {value}")


def in_words(question: Question, value: str) -> str:
    """A value as it is shown."""
    if value == UNKNOWN:
        return "not paid" if question.id == "rate" else "not given" if question.id == "where" else "not known"
    if value == "out-of-reach":
        return "out of reach"
    if question.kind == "stem":
        measured, _, size = value.partition(" ")
        return f"{size} around, so {_across(size)} across" if measured == "girth" else f"{size} across"
    if question.kind in ("choice", "choices") and question.choices.get(value, "").casefold().startswith(("yes", "no,")):
        return question.choices[value]
    if question.id == "own":
        value = value.replace("-", " ")
    return value.replace(",", ", ").replace(",  ", ", ")


def _across(girth: str) -> str:
    amount = parse_amount(girth)
    unit = "cm" if amount.unit in ("cm", "m", "mm") else "in"
    inches = across_in(convert(amount.number, amount.unit or "in", "in"))
    return f"{convert(inches, 'in', unit):.1f} {unit}"


def _choice(word: str, meaning: str) -> str:
    return meaning if word in ("true", "false") or meaning == word else f"{word}: {meaning}"


def _filled(text: str, interview: Interview, tree: int) -> str:
    """The text with what the program says elsewhere about looking under bark, and with the towns that are known."""
    if "{" not in text:
        return text
    book = look_book()
    status = known_answers(interview, tree).get("status", "standing")
    where = {"standing": book.where.standing, "stump": book.where.stump}.get(status, book.where.down)
    fills: Mapping[str, str] = {"look": book.how.format(where=where), "towns": ", ".join(towns()), **book.looks}
    for name, said in fills.items():
        text = text.replace("{" + name + "}", said)
    return text
