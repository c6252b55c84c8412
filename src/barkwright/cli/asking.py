"""Questions at a terminal instead of a file: asks, keeps each answer at once, writes the inventory."""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from pathlib import Path

from barkwright.cli import files
from barkwright.cli.dialogue import KEYS, in_words, read_line, say, show_answers, show_help, show_question
from barkwright.cli.drafts import Draft, draft_name, fresh, kept
from barkwright.cli.errors import FAILED, FILE_FAULT, WRONG_USE, StopError, UserStopError
from barkwright.intake.draft import NoDraftError, draft_text, with_draft
from barkwright.intake.interview import Interview, back, current, steps
from barkwright.intake.replying import reply, sheet_of
from barkwright.intake.sheet import Sheet

BACK = ("back", "b", "<")
QUIT = ("quit", "q", "exit", "stop", ":q")
HELP = ("?", "help", "h", "??")
UNITS = ("metric", "imperial")


class QuitError(Exception):
    """The user wants to stop; what was answered is kept."""


def at_terminal() -> bool:
    """Are both ends at a terminal, so that somebody can be asked?"""
    return all(stream is not None and not stream.closed and stream.isatty() for stream in (sys.stdin, sys.stdout))


def ask_all(interview: Interview, target: str | None) -> tuple[Interview, Sheet, str]:
    """Ask until all is answered and confirmed, and write the inventory: the answers, the inventory, its name.

    target : the file to write where one was named; else a name is asked. Ends the command where the user stops.
    """
    if target is not None and os.path.lexists(target):
        raise StopError(f"{target!r} is there already", WRONG_USE, "choose another name; nothing was written")
    name = draft_name(interview.command, target)
    draft = fresh(name)
    try:
        interview, draft = _begun(interview, draft, name)
        _say_rules(interview, draft)
        while True:
            interview = _questions(interview, draft)
            changed = _review(interview)
            if changed is not None:
                interview = changed
                continue
            sheet = sheet_of(interview)
            written = _written(sheet, target, interview.command)
            if written is not None:
                draft.drop()
                return interview, sheet, written
            interview = back(interview) or interview
    except QuitError:
        raise _stopped(draft, "stopped") from None
    except EOFError:
        say()
        raise _stopped(draft, "the input ended") from None
    except KeyboardInterrupt:
        say()
        raise _stopped(draft, "stopped") from None


def _stopped(draft: Draft, why: str) -> UserStopError:
    if not os.path.isfile(draft.name):
        return UserStopError(f"{why}: nothing was answered, nothing is kept", FAILED)
    hint = "give the same command again in this folder to go on from there"
    return UserStopError(f"{why}: your answers are kept in {draft.name!r}", FAILED, hint)


def _begun(interview: Interview, draft: Draft, name: str) -> tuple[Interview, Draft]:
    """The interview to go on with, and its draft: an earlier one if there is one and the user wants it."""
    earlier = kept(name)
    if earlier is None:
        return interview, draft
    try:
        resumed, lost = with_draft(interview, earlier.read())
    except NoDraftError as fault:
        say(f"{earlier.name!r} is left alone: {fault}.")
        return interview, draft
    count = len(resumed.answers)
    say(f"{earlier.name!r} holds {count} answers from before." + (f" {lost} no longer fit." if lost else ""))
    while True:
        say("Go on from there? yes or no; an empty line means yes.")
        answer = _line()
        if answer.casefold() in ("", "yes", "y"):
            return resumed, earlier
        if answer.casefold() in ("no", "n"):
            say(f"It is left as it is; the new answers go to {draft.name!r}.")
            return interview, draft


def _say_rules(interview: Interview, draft: Draft) -> None:
    count = len(steps(interview, likely=True))
    metric = interview.units == "metric"
    say()
    say(f"About {count} questions, the dangerous things first. Most take a word or a number.")
    bare = "a bare number is cm across and metres along" if metric else "a bare number is inches across and feet along"
    other = "imperial for inches and feet" if metric else "metric for cm and metres"
    say(f"Sizes with their unit: 35 ft, 42 cm, 12' 6\"; {bare} (type {other}).")
    say(f"Always possible: {KEYS}. Each answer is kept at once in {draft.name!r}.")


def _line() -> str:
    """A line; quitting is possible everywhere."""
    text = read_line().strip()
    if text.casefold() in QUIT:
        raise QuitError
    return text


def _questions(interview: Interview, draft: Draft) -> Interview:
    """Ask what is not answered yet."""
    shown, refused = None, 0
    while (step := current(interview)) is not None:
        if step.key != shown:
            show_question(interview, step)
            shown = step.key
        text = _line()
        word = text.casefold()
        if word in HELP:
            show_help(interview, step)
        elif word in UNITS:
            interview = replace(interview, units=word)
            say(f"Bare numbers are {'cm and metres' if word == 'metric' else 'inches and feet'} from now on.", 2)
        elif word in BACK:
            interview, shown = _gone_back(interview, shown)
        else:
            turn = reply(interview, text)
            if not turn.refused and turn.interview.answers != interview.answers:
                value = in_words(step.question, turn.interview.answers[step.key])
                if value.casefold() != word:
                    say(f"= {value}", 2)
            for said in turn.said:
                say(f"Not taken: {said}" if turn.refused else said, 2)
            shown = shown if turn.refused else None
            refused = refused + 1 if turn.refused else 0
            if refused == 2:
                say("Type ? for more, or back to change an answer before.", 2)
            interview = turn.interview
            if not turn.refused:
                _keep(interview, draft)
    return interview


def _keep(interview: Interview, draft: Draft) -> None:
    if not draft.keep(draft_text(interview)):
        say(f"Your answers cannot be kept: {draft.fault}. They are lost if this window closes.", 2)


def _gone_back(interview: Interview, shown: str | None) -> tuple[Interview, str | None]:
    before = back(interview)
    if before is None:
        say("This is the first question.", 2)
        return interview, shown
    return before, None


def _review(interview: Interview) -> Interview | None:
    """The interview at the answer that is to be changed; None where all is right."""
    show_answers(interview)
    say()
    all_steps = steps(interview)
    while True:
        say("The number of an answer changes it. An empty line: all is right.")
        text = _line()
        if not text:
            return None
        if text.casefold() in BACK:
            return back(interview)
        if text.isdecimal() and text.isascii() and 1 <= int(text[:6]) <= len(all_steps):
            return replace(interview, at=all_steps[int(text[:6]) - 1].key)
        say(f"Not taken: write a number from 1 to {len(all_steps)}, or nothing.", 2)


def _written(sheet: Sheet, target: str | None, command: str) -> str | None:
    """The name under which the inventory was written; None where the user goes back."""
    if target is not None:
        files.write(_text(sheet, target), target)
        return target
    default = _free("one-tree" if command == "tree" else "my-trees")
    while True:
        say()
        say(f"Under which name is it written? Empty line: {default}")
        text = _line()
        if text.casefold() in BACK:
            return None
        name = text or default
        if not text.isprintable() or text in HELP:
            say("Not taken: a file name in plain letters, like my-tree.yaml.", 2)
            continue
        name = name if Path(name).suffix else f"{name}.yaml"
        if os.path.lexists(name):
            say(f"Not taken: {name!r} is there already, and nothing is written over.", 2)
            continue
        try:
            files.write(_text(sheet, name), name)
        except StopError as fault:
            say(f"Not taken: {fault}.", 2)
            continue
        return name


def _text(sheet: Sheet, name: str) -> str:
    """The inventory, in whose first lines the commands name the file itself."""
    return sheet.text.replace(" FILE ", f" {_quoted(name)} ", 2)


def _free(stem: str) -> str:
    names = (f"{stem}{number}.yaml" for number in ("", *(f"-{n}" for n in range(2, 1000))))
    return next((name for name in names if not os.path.lexists(name)), f"{stem}.yaml")


def say_next(name: str) -> None:
    """What to do after the order."""
    say()
    say(f"Your answers are in {name}. Change what you like in it, then make the order again:")
    say(f"barkwright order {_quoted(name)}", 2)


def not_yet(name: str) -> int:
    """What to do where the answers do not make an order yet; the exit code of that."""
    say()
    say(
        f"Your answers are in {name}. No order can be made before what is missing in it has been measured or looked up:"
    )
    say(f"barkwright check {_quoted(name)}", 2)
    return FILE_FAULT


def _quoted(name: str) -> str:
    import shlex

    return shlex.quote(name)
