"""The list of publications, and the data files that rest on each."""

from __future__ import annotations

import re
from collections import defaultdict

from barkwright.output.json_results import SourcesResult
from barkwright.output.layout import wrapped
from barkwright.sources import DATA, load_sources

SEEN = {"read": "read", "secondary": "known through another publication", "memory": "from memory, not seen"}


def sources_text() -> str:
    """Every publication with its key, how well it is known, and where it is used."""
    used = _used()
    lines = [
        f"{len(load_sources())} publications. Each entry: key, publication, how well it is known, what rests on it.",
        "",
    ]
    lines = [*wrapped(lines[0]), ""]
    for key, source in sorted(load_sources().items()):
        lines.append(key)
        lines += wrapped(str(source), "  ")
        note = f"; {source.note}" if source.note else ""
        lines += wrapped(f"Known: {SEEN[source.seen]}{note}.", "  ", "    ")
        if used[key]:
            lines += wrapped(f"Used in: {', '.join(used[key])}.", "  ", "    ")
        lines.append("")
    return "\n".join(lines[:-1]) + "\n"


def sources_result() -> SourcesResult:
    """The same as plain data."""
    used = _used()
    return {
        "sources": [
            {
                "key": key,
                "author": source.author,
                "year": source.year,
                "title": source.title,
                "seen": source.seen,
                "text": str(source),
                "used_in": used[key],
            }
            for key, source in sorted(load_sources().items())
        ]
    }


def _used() -> dict[str, list[str]]:
    """Data files by the key of the source that they cite."""
    keys = sorted(load_sources(), key=len, reverse=True)
    cited = re.compile(rf"(?<![\w-])({'|'.join(map(re.escape, keys))})(?=[,\"'\]]|\s*$)", re.MULTILINE)
    used: dict[str, list[str]] = defaultdict(list)
    for path in sorted(DATA.rglob("*.*")):
        name = path.relative_to(DATA).as_posix()
        if name == "sources.yaml" or path.suffix not in (".yaml", ".csv"):
            continue
        for key in sorted(set(cited.findall(path.read_text(encoding="utf-8")))):
            used[key].append(name)
    return used
