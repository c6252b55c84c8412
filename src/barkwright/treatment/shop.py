"""What the hands and machines of one site can do: the rates that hold here, turned into hours."""

from __future__ import annotations

from barkwright.inventory.model import Equipment, Inventory, Skill
from barkwright.stem.measures import section_ft2
from barkwright.treatment.chippers import chipper_of
from barkwright.treatment.chipping import KW_PER_HP
from barkwright.treatment.crews import can_saw
from barkwright.treatment.rates import RateBook, Triple, rate_book


class Shop:
    """Rates of one site as triples low, likely, high, and the machine of each kind that would be used."""

    def __init__(self, inventory: Inventory) -> None:
        book = rate_book(inventory.local)
        self.inventory = inventory
        self.book: RateBook = book
        self.rate: dict[str, Triple] = {name: book.triple(name) for name in book.rates}
        self.size: dict[str, float] = {name: book.value(name) for name in book.settings}
        self.saw_share = self.rate["saw-share"]
        self.hand_share = self.rate["hand-share"]
        self.machines: dict[str, Equipment] = {}
        for machine in inventory.equipment:
            best = self.machines.get(machine.kind)
            if best is None or _size(machine) > _size(best):
                self.machines[machine.kind] = machine
        self.saw_crew = can_saw(inventory, "saw")
        self.chipper = chipper_of(inventory)  # the one that takes the thickest wood
        chipper = self.machines.get("chipper")
        self.chipper_kw = (
            book.horsepower((chipper.capacity if chipper else None) or self.size["chipper-unknown"]) * KW_PER_HP
        )
        self.hand_fed = chipper is None or chipper.feed in (None, "hand")

    def saw_hours(self, minutes: Triple) -> Triple:
        """On-site hours of saw work from productive minutes."""
        low, likely, high = self.saw_share
        return minutes[0] / 60 / high, minutes[1] / 60 / likely, minutes[2] / 60 / low

    def hand_hours(self, quantity: float, rate: str) -> Triple:
        """On-site hours of one pair of hands for a quantity at a rate per hour."""
        low, likely, high = self.rate[rate]
        share = self.hand_share
        return quantity / high / share[2], quantity / likely / share[1], quantity / low / share[0]

    def hand_time(self, quantity: float, rate: str) -> Triple:
        """On-site hours of one pair of hands for a quantity at a rate in hours per unit."""
        low, likely, high = self.rate[rate]
        share = self.hand_share
        return quantity * low / share[2], quantity * likely / share[1], quantity * high / share[0]

    def cut_minutes(self, cuts: int, diameter_in: float) -> Triple:
        """Productive minutes of cross-cuts through a diameter."""
        move, face = self.rate["cut-move"], self.rate["cut-face"]
        area = section_ft2(diameter_in)
        return cuts * (move[0] + area / face[2]), cuts * (move[1] + area / face[1]), cuts * (move[2] + area / face[0])

    def operator_skills(self, kind: str) -> tuple[Skill, ...]:
        """Skills that running a machine takes of the crew: none when it comes with its operator."""
        machine = self.machines.get(kind)
        return () if machine is not None and machine.with_operator else ("machine",)

    def payload_given(self, kind: str) -> float | None:
        """What the inventory says one load of this machine may be [lb, chip trucks yd3], if it says."""
        machine = self.machines.get(kind)
        return None if machine is None else machine.working_capacity or machine.capacity

    def payload_lb(self, kind: str) -> float:
        """What one load weighs at most [lb]: the inventory's figure, or a placeholder."""
        return self.payload_given(kind) or self.size["truck-payload"]

    def load_yd3(self) -> float:
        """Room of the chip truck [yd3]: the inventory's figure, or a placeholder."""
        return self.payload_given("chip-truck") or self.size["truck-yd3"]

    def loader(self) -> str | None:
        """The machine that can load logs, if there is one."""
        return next(
            (kind for kind in ("loader", "skid-steer", "excavator", "backhoe", "tractor") if kind in self.machines),
            None,
        )


def _size(machine: Equipment) -> float:
    return machine.working_capacity or machine.capacity or 0.0


def plus(*hours: Triple) -> Triple:
    """The sum of several triples."""
    return (
        sum([each[0] for each in hours]), sum([each[1] for each in hours]), sum([each[2] for each in hours]),
    )  # fmt: skip


_last: list[Shop] = []  # the shop of the inventory last asked about: one site is planned at a time


def shop_of(inventory: Inventory) -> Shop:
    """The shop of an inventory, made once."""
    if not _last or _last[0].inventory is not inventory:
        _last[:] = [Shop(inventory)]
    return _last[0]
