"""A calendar that keeps entries as calendars do: by UID, and of two the one with the higher SEQUENCE."""

from __future__ import annotations

from ical.calendar_stream import IcsCalendarStream
from ical.event import Event


def read(content: bytes) -> list[Event]:
    """The entries of a file, read by a library that did not write it."""
    return list(IcsCalendarStream.calendar_from_ics(content.decode("utf-8")).events)


class Kept:
    """What stands in somebody's calendar."""

    def __init__(self) -> None:
        self.entries: dict[str, Event] = {}

    def take(self, content: bytes) -> None:
        """Import a file."""
        for event in read(content):
            have = self.entries.get(event.uid)
            if have is None or (have.sequence or 0) <= (event.sequence or 0):
                self.entries[event.uid] = event

    def shown(self) -> list[tuple[object, ...]]:
        """Days and titles, as one sees them."""
        return sorted((event.start, event.end, event.summary) for event in self.entries.values())
