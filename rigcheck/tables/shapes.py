"""Find a steel shape by the name a person writes."""

import re
from dataclasses import dataclass
from functools import cache
from math import sqrt
from typing import Any

from rigcheck.tables import geometry, shape_names
from rigcheck.tables.errors import ShapeError
from rigcheck.tables.loader import block_head, one_line_row, text
from rigcheck.tables.materials import sheet_density, steel_density
from rigcheck.tables.shape_names import FORMS, BadSizeError, Size

DESIGN_WALL = 0.93
"""Design wall over nominal wall of welded tube. Source: AISC 360-22 B4.2 (memory)."""

_MARKS = (("i", "in4"), ("s", "in3"), ("z", "in3"), ("r", "in"))
_GEOMETRY = ("geometry of the named sizes (own derivation)", "square corners unless a tube", "memory")
_TUBE = ("geometry of a tube with rounded corners (own derivation)", "outside corner radius 2 t", "memory")


@dataclass(frozen=True, slots=True)
class Shape:
    """One steel shape, standing as its name is written: first size upright, second across.

    Attributes:
        name: Listed or tidied name.
        kind: "hss", "pipe", "tube", "round tube", "angle", "bar" or "round bar".
        weight_per_length: Weight. [lbf/in]
        area: Area. [in2]
        depth: Outside height. [in]
        width: Outside width. [in]
        t_nominal: Wall, leg or bar thickness as sold. [in]
        t_design: Thickness that the properties rest on. [in]
        ix: Second moment, horizontal axis. [in4]
        sx: Least elastic modulus, horizontal axis. [in3]
        zx: Plastic modulus, horizontal axis. [in3]
        rx: Radius of gyration, horizontal axis. [in]
        iy: Second moment, vertical axis. [in4]
        sy: Least elastic modulus, vertical axis. [in3]
        zy: Plastic modulus, vertical axis. [in3]
        ry: Radius of gyration, vertical axis. [in]
        r_min: Least radius of gyration about any axis. [in]
        j: Torsion constant. [in4]
        torsion_c: Torque over largest shear stress. [in3]
        h_over_t: Flat height over wall; outside diameter over wall when round; leg over wall for an angle;
            height over width for a bar; 1 for a round bar.
        b_over_t: As `h_over_t`, across.
        corner: Outside corner radius. [in]
        x_bar: Centroid from the left face; an angle has its upright leg there. [in]
        y_bar: Centroid from the bottom face; an angle has its foot there. [in]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
        note: What else to mind.
    """

    name: str
    kind: str
    weight_per_length: float
    area: float
    depth: float
    width: float
    t_nominal: float
    t_design: float
    ix: float
    sx: float
    zx: float
    rx: float
    iy: float
    sy: float
    zy: float
    ry: float
    r_min: float
    j: float
    torsion_c: float
    h_over_t: float
    b_over_t: float
    corner: float
    x_bar: float
    y_bar: float
    source: str
    clause: str
    known: str
    note: str = ""


@cache
def listed_names() -> tuple[str, ...]:
    """Return the names of every shape that the published tables list."""
    return tuple(re.findall(r'\{ name = "([^"]+)"', text("hss_pipe")))


@cache
def find(name: str) -> Shape:
    """Return a steel shape from the published tables or, where they end, from geometry.

    Upper and lower case, spaces, "1-1/2", "1 1/2" and "1.5" are all alike. A tube or bar stands as written, so
    "HSS2x1x1/8" is 2 in high and "HSS1x2x1/8" is the same tube laid flat.

    Args:
        name: One of the listed names, or a name of one of the forms in `FORMS`.

    Raises:
        ShapeError: Unknown; names the nearest listed shapes and the accepted forms.
    """
    try:
        kind, sizes, schedule = shape_names.read(name)
        if kind == "pipe":
            return _pipe(sizes[0], schedule)
        return _BUILDERS[kind](kind, sizes)
    except BadSizeError as problem:
        from difflib import get_close_matches  # only what is not found pays for it

        plain = {_plain(listed): listed for listed in listed_names()}
        near = get_close_matches(_plain(name), plain, n=3, cutoff=0.5)
        raise ShapeError(name, FORMS, nearest=[plain[one] for one in near], why=str(problem)) from None


def thinnest(name: str) -> str | None:
    """The thinnest that is listed of a size whose wall is said to be unknown, such as "HSS2x2, wall unknown".

    Args:
        name: As written.

    Returns:
        Its name; None where no wall is said to be unknown.

    Raises:
        ShapeError: The lists have no such size, or the wall of such a shape is in no list.
    """
    tidy = " ".join(re.sub(r",|\bwall\b", " ", name.casefold()).split())
    if not tidy.endswith("unknown"):
        return None
    size = tidy.removesuffix("unknown").strip(" x\u00d7")
    try:
        if size.startswith("pipe"):
            return find(f"{size} STD").name
        kind, sizes, _ = shape_names.read(size)
        labels = [one.label for one in sorted(sizes, key=lambda one: -one.inches)]
        start = f"HSS{'x'.join(labels)}x"
        listed = [one for one in listed_names() if one.startswith(start)] if kind == "hss" and len(sizes) == 2 else []
        if listed:
            wall = min(listed, key=lambda one: find(one).t_nominal).removeprefix(start)
            return f"HSS{sizes[0].label}x{sizes[1].label}x{wall}"
    except BadSizeError:
        pass
    raise ShapeError(name, FORMS, why="no list says the thinnest wall of it; measure it")


def _plain(name: str) -> str:
    return re.sub(r"\s", "", name.casefold())


def _origin(block: str) -> dict[str, Any]:
    head = block_head("hss_pipe", block=block, rows="section")
    return {key: head[key] for key in ("source", "clause", "known")}


def _hss(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) == 2:
        raise BadSizeError('round HSS is not listed; write "round tube" with its diameter and wall')
    if len(sizes) != 3:
        raise BadSizeError("an HSS has three sizes: depth, width and wall")
    flat = sizes[0].inches < sizes[1].inches
    first, second = (sizes[1], sizes[0]) if flat else (sizes[0], sizes[1])
    row = one_line_row("hss_pipe", key="name", value=f"HSS{first.label}x{second.label}x{sizes[2].label}")
    if row is None:
        raise BadSizeError('not in the list of HSS to 4 x 4 in; write "tube" to have it worked out from its sizes')
    major, minor = ("y", "x") if flat else ("x", "y")
    high, wide = ("b_over_t", "h_over_t") if flat else ("h_over_t", "b_over_t")
    about: dict[str, Any] = {}
    for axis, column in (("x", major), ("y", minor)):
        about |= {f"{mark}{axis}": row[f"{mark}{column}_{unit}"] for mark, unit in _MARKS}
    return Shape(
        name=f"{row['name']} laid flat" if flat else row["name"],
        kind=kind,
        weight_per_length=row["weight_lb_per_ft"] / 12.0,
        area=row["area_in2"],
        depth=sizes[0].inches,
        width=sizes[1].inches,
        t_nominal=row["t_nominal_in"],
        t_design=row["t_design_in"],
        r_min=row["ry_in"],
        j=row["j_in4"],
        torsion_c=row["torsion_c_in3"],
        h_over_t=row[high],
        b_over_t=row[wide],
        corner=geometry.CORNER_OVER_WALL * row["t_design_in"],
        x_bar=sizes[1].inches / 2.0,
        y_bar=sizes[0].inches / 2.0,
        **about,
        **_origin("hss"),
    )


def _pipe(size: Size, schedule: str) -> Shape:
    row = one_line_row("hss_pipe", key="name", value=f"Pipe {size.label} {schedule}")
    if row is None:
        raise BadSizeError("not in the list of pipe to 4 in")
    diameter, wall = row["outside_diameter_in"], row["t_design_in"]
    about: dict[str, Any] = {f"{mark}{axis}": row[f"{mark}_{unit}"] for mark, unit in _MARKS for axis in "xy"}
    return Shape(
        name=row["name"],
        kind="pipe",
        weight_per_length=row["weight_lb_per_ft"] / 12.0,
        area=row["area_in2"],
        depth=diameter,
        width=diameter,
        t_nominal=row["t_nominal_in"],
        t_design=wall,
        r_min=row["r_in"],
        j=row["j_in4"],
        torsion_c=row["j_in4"] / (diameter / 2.0),
        h_over_t=diameter / wall,
        b_over_t=diameter / wall,
        corner=diameter / 2.0,
        x_bar=diameter / 2.0,
        y_bar=diameter / 2.0,
        **about,
        **_origin("pipe"),
    )


def _worked_out(found: geometry.Properties, **rest: Any) -> Shape:
    source, clause, known = rest.pop("origin", _GEOMETRY)
    return Shape(
        area=found.area,
        ix=found.ix,
        sx=found.sx,
        zx=found.zx,
        rx=sqrt(found.ix / found.area),
        iy=found.iy,
        sy=found.sy,
        zy=found.zy,
        ry=sqrt(found.iy / found.area),
        r_min=found.r_min,
        j=found.j,
        torsion_c=found.torsion_c,
        x_bar=found.x_bar,
        y_bar=found.y_bar,
        source=source,
        clause=clause,
        known=known,
        **rest,
    )


def _tube(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) != 3:
        raise BadSizeError('a tube has three sizes: depth, width and wall; write "round tube" for a round one')
    depth, width, nominal = (size.inches for size in sizes)
    if nominal > min(depth, width) / 4.0:
        raise BadSizeError("the wall is more than a quarter of the lesser side")
    wall = DESIGN_WALL * nominal
    sold = geometry.rectangular_tube(depth, width=width, wall=nominal)
    return _worked_out(
        geometry.rectangular_tube(depth, width=width, wall=wall),
        name=f"tube {'x'.join(size.label for size in sizes)}",
        kind=kind,
        weight_per_length=sold.area * _density(sizes[2]),
        depth=depth,
        width=width,
        t_nominal=nominal,
        t_design=wall,
        h_over_t=depth / wall - 3.0,
        b_over_t=width / wall - 3.0,
        corner=geometry.CORNER_OVER_WALL * wall,
        origin=_TUBE,
        note=_gauge_note(sizes[2]),
    )


def _round_tube(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) != 2:
        raise BadSizeError("a round tube has two sizes: outside diameter and wall")
    diameter, nominal = (size.inches for size in sizes)
    if nominal > diameter / 4.0:
        raise BadSizeError("the wall is more than a quarter of the diameter")
    wall = DESIGN_WALL * nominal
    sold = geometry.round_section(diameter, inside=diameter - 2.0 * nominal)
    return _worked_out(
        geometry.round_section(diameter, inside=diameter - 2.0 * wall),
        name=f"round tube {sizes[0].label}x{sizes[1].label}",
        kind=kind,
        weight_per_length=sold.area * _density(sizes[1]),
        depth=diameter,
        width=diameter,
        t_nominal=nominal,
        t_design=wall,
        h_over_t=diameter / wall,
        b_over_t=diameter / wall,
        corner=diameter / 2.0,
        note=_gauge_note(sizes[1]),
    )


def _angle(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) != 3:
        raise BadSizeError("an angle has three sizes: leg, leg and thickness")
    depth, width, wall = (size.inches for size in sizes)
    if wall > min(depth, width) / 2.0:
        raise BadSizeError("the thickness is more than half of the lesser leg")
    found = geometry.angle(depth, width=width, wall=wall)
    return _worked_out(
        found,
        name=f"angle {'x'.join(size.label for size in sizes)}",
        kind=kind,
        weight_per_length=found.area * _density(sizes[2]),
        depth=depth,
        width=width,
        t_nominal=wall,
        t_design=wall,
        h_over_t=depth / wall,
        b_over_t=width / wall,
        corner=0.0,
        note="axes parallel to the legs; the least radius of gyration is about a skew axis",
    )


def _bar(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) != 2:
        raise BadSizeError("a bar has two sizes: depth and width")
    depth, width = (size.inches for size in sizes)
    found = geometry.rectangle(depth, width=width)
    return _worked_out(
        found,
        name=f"bar {sizes[0].label}x{sizes[1].label}",
        kind=kind,
        weight_per_length=found.area * steel_density(),
        depth=depth,
        width=width,
        t_nominal=min(depth, width),
        t_design=min(depth, width),
        h_over_t=depth / width,
        b_over_t=width / depth,
        corner=0.0,
    )


def _round_bar(kind: str, sizes: list[Size]) -> Shape:
    if len(sizes) != 1:
        raise BadSizeError('a round bar has one size, its diameter; write "round tube" for a hollow one')
    diameter = sizes[0].inches
    found = geometry.round_section(diameter, inside=0.0)
    return _worked_out(
        found,
        name=f"round {sizes[0].label}",
        kind=kind,
        weight_per_length=found.area * steel_density(),
        depth=diameter,
        width=diameter,
        t_nominal=diameter,
        t_design=diameter,
        h_over_t=1.0,
        b_over_t=1.0,
        corner=diameter / 2.0,
    )


def _density(wall: Size) -> float:
    return sheet_density() if wall.gauge else steel_density()


def _gauge_note(wall: Size) -> str:
    if not wall.gauge:
        return ""
    return f"{wall.gauge} gauge read as sheet, {wall.inches:g} in; tube gauges can be thicker, so measure the wall"


_BUILDERS = {
    "hss": _hss,
    "tube": _tube,
    "round tube": _round_tube,
    "angle": _angle,
    "bar": _bar,
    "round bar": _round_bar,
}
