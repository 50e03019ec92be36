"""The whole case as a person writes it; every key of the file is declared in these models and nowhere else."""

from typing import Literal

from rigcheck.case.models.box import Box, CrossMember, EndTube, Fitting, Mat, Rail, Text
from rigcheck.case.models.fed import FedBy
from rigcheck.case.models.plant import Foot, Plant, Wheels
from rigcheck.case.models.props import SecondLine, TailLeg
from rigcheck.case.models.stretch import Stretch, StretchJoint
from rigcheck.case.models.support import Brace, Hanger, Hinge, Line, Link, Lug, Perch, Post
from rigcheck.case.models.trap import Gate, Trap
from rigcheck.case.models.use import (
    Bed,
    Factors,
    Fold,
    Haul,
    Ice,
    Measured,
    Person,
    Stop,
    TieDown,
    Towing,
    Water,
    Weld,
    Wind,
)
from rigcheck.case.schema.sections import Section, default_section, key, weighed, weighed_rows

__all__ = [
    "Bed",
    "Box",
    "Brace",
    "Case",
    "CrossMember",
    "EndTube",
    "Factors",
    "FedBy",
    "Fitting",
    "Fold",
    "Foot",
    "Gate",
    "Hanger",
    "Haul",
    "Hinge",
    "Ice",
    "Line",
    "Link",
    "Lug",
    "Mat",
    "Measured",
    "Perch",
    "Person",
    "Plant",
    "Post",
    "Rail",
    "SecondLine",
    "Section",
    "Stop",
    "Stretch",
    "StretchJoint",
    "TailLeg",
    "TieDown",
    "Towing",
    "Trap",
    "Water",
    "Weld",
    "Wheels",
    "Wind",
]


class Case(Section):
    """One rig. Read it with `rigcheck.case.read_case`, which also applies the rules between keys."""

    title: Text = key("what this rig is called", example="Alder Fork, fold-up box, 30 in by 10 ft")
    revision: Text | None = key("revision of this file", default=None, example="B")
    by: Text | None = key("who entered it", default=None, example="shop")
    note: Text | None = key("anything a reader should know", default=None, example="measured on the bench")
    basis: Literal["lifting", "frame"] = key(
        "steel is judged by ASME BTH-1 category B (lifting) or AISC 360 allowable strength (frame)",
        default="lifting",
        source="the stricter basis: people work near it and there are no mill certificates",
    )
    plant: Plant = default_section()
    box: Box
    stretch: tuple[Stretch, ...] = weighed_rows()
    rail: Rail = default_section()
    cross_member: CrossMember | None = None
    end_tube: EndTube | None = None
    mat: Mat | None = weighed()
    trap: tuple[Trap, ...] = weighed_rows()
    gate: tuple[Gate, ...] = weighed_rows()
    fitting: tuple[Fitting, ...] = weighed_rows()
    hinge: Hinge = default_section()
    hanger: Hanger
    perch: Perch
    line: Line
    tail_leg: TailLeg | None = None
    second_line: SecondLine | None = None
    fed_by: FedBy | None = weighed()
    water: Water | None = None
    bed: Bed = default_section()
    person: Person = default_section()
    ice: Ice = default_section()
    wind: Wind = default_section()
    towing: Towing = default_section()
    fold: Fold = default_section()
    haul: Haul = default_section()
    weld: Weld = default_section()
    factors: Factors = default_section()
    measured: Measured = default_section()
