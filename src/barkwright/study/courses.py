"""Courses: one way of working taken through all the wood of a tree or a site, as they are set side by side."""

from __future__ import annotations

from collections.abc import Mapping
from fnmatch import fnmatchcase
from functools import cache
from types import MappingProxyType
from typing import Literal

from barkwright.datafile import load
from barkwright.record import dataclass
from barkwright.treatment.rulebook import templates

Want = Literal["fuel", "gone", "boards"]


@dataclass(frozen=True, slots=True)
class Course:
    """One course of data/study/courses.yaml."""

    id: str
    title: str  # plain words for a client: "strip the bark with a drawknife"
    ways: tuple[str, ...]  # ids of ways; `*` stands for any letters
    look: str  # of the place afterwards
    wants: tuple[Want, ...]  # plain wishes that it may answer


LEAVE = "leave"
MIX = Course("plan", "as planned, each piece its own way", (), "", ())


@cache
def courses() -> tuple[Course, ...]:
    """All courses, in the order of the file."""
    return load("study/courses.yaml", tuple[Course, ...])


@cache
def course_of() -> Mapping[str, Course]:
    """The course of every way, by the id of its template."""
    found = {
        way: course for way in templates() for course in courses() if any(fnmatchcase(way, one) for one in course.ways)
    }
    return MappingProxyType(found)
