"""Networks of tasks as their sources print them, put together from the study's functions."""

from __future__ import annotations

from barkwright.study import pert

TIMES = dict[str, list[float]]
PREDS = dict[str, list[str]]


def path(times: list[list[float]], due: float = 0.0) -> dict[str, float]:
    """Mean, textbook variance and probability of ending by a time, of tasks one after the other."""
    mean = sum(pert.pert_mean(*task) for task in times)
    variance = sum(pert.textbook_variance(task[0], task[2]) for task in times)
    return {"mean": mean, "variance": variance, "probability": pert.path_probability(due, mean, variance)}


def activity(times: TIMES, preds: PREDS, name: str) -> dict[str, float]:
    """Earliest start and end of one activity and its slack."""
    ahead = _ends(times, preds)
    after = {task: [other for other in times if task in preds.get(other, ())] for task in times}
    behind = _ends({task: times[task] for task in reversed(times)}, after)
    took = pert.pert_mean(*times[name])
    whole = max(ahead.values())
    return {"start": ahead[name] - took, "end": ahead[name], "slack": whole - (ahead[name] + behind[name] - took)}


def _ends(times: TIMES, preds: PREDS) -> dict[str, float]:
    order = {name: place for place, name in enumerate(times)}
    waits = [[order[pred] for pred in preds.get(name, ())] for name in times]
    return dict(zip(times, pert.expected_ends([tuple(task) for task in times.values()], waits), strict=True))
