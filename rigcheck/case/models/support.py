"""What holds the box: hinge, hangers, perches with their posts, and the lines between them."""

from typing import Annotated, Literal

from rigcheck.case.models.box import Count, Extent, Leg, Shape, Station, Steel, Text, steel_key
from rigcheck.case.schema.kinds import Quantity, Whole
from rigcheck.case.schema.sections import Rows, Section, asked_outside, key, or_lowest
from rigcheck.tables.link_kinds import LinkKind
from rigcheck.tables.rope import RopeEnd

Diameter = Annotated[float, Quantity("length", "1/16 in", "6 in")]
Plate = Annotated[float, Quantity("thickness", "1/32 in", "4 in")]
Short = Annotated[float, Quantity("length", "0 in", "40 in", above=True)]
Run = Annotated[float, Quantity("length", "1/4 in", "40 in")]
Spacing = Annotated[float, Quantity("length", "2 in", "200 in")]
Rating = Annotated[float, Quantity("force", "10 lb", "200000 lb")]
Angle = Annotated[float, Quantity("angle", "-90 deg", "90 deg")]
Share = Annotated[float, Quantity("fraction", "0 %", "90 %")]


class Ear(Section):
    """A plate on edge at the hinge, with a hole for its pin."""

    plate: Plate = asked_outside("1/8 in", "2 in", key("thickness of the plate", example="3/8 in"))
    hole: Diameter = key("diameter of the hole", example="1 1/16 in")
    edge: Short = key("hole center to the nearest edge, whichever way it lies", example="1 1/4 in")
    width: Short = key("width of the plate at the hole", example="2 1/2 in")
    stand_off: Short = key("face that it is welded to, to hole center", example="1 1/2 in")
    foot: Short | None = key(
        "length of the plate where it is welded, for one that is wider there than at its hole",
        default=None,
        example="3 in",
        derived="as width",
    )
    weld: Leg | None = key("fillet leg, on both faces of the plate", default=None, example="1/4 in")
    weld_length: Run | None = key(
        "length of the weld on one face; no longer than the foot", default=None, example="2 1/2 in"
    )
    steel: Steel = steel_key()


class Hinge(Section):
    """The two hinge groups at the head; only height and spacing enter the statics."""

    kind: Literal["barrels", "ears", "center pivot"] | None = key(
        "barrels on a pin, which counts where nothing is said; a pin through one ear of the box and one or two of the "
        "plant at each side (ears); or one bar at mid-width through two ears of the box with the plant's lug between "
        "them, on which the box is free to roll (center pivot)",
        default=None,
        example="ears",
    )
    height: Annotated[float, Quantity("length", "-48 in", "48 in")] = key(
        "pin axis above the floor", default="0 in", source="assumption: pin axis in the plane of the floor"
    )
    spacing: Spacing | None = key(
        "center to center of the two hinge groups; of a center pivot, of the two ears of the box",
        default=None,
        example="28 in",
        derived="as box.width; of a center pivot, the plates and the gaps between them",
    )
    off_level: Annotated[float, Quantity("angle", "0 deg", "10 deg")] | None = key(
        "of a center pivot: how far the box may stand rolled off level before somebody evens its lines",
        default=None,
        example="3 deg",
        derived="2 deg: what an eye sees, an assumption without a source",
        only="center pivot",
    )
    barrels: Annotated[int, Whole(2, 15)] | None = key("barrels in one hinge group", default=None, example=5)
    barrel_length: Short | None = key("length of one barrel", default=None, example="1 1/2 in")
    gap: Annotated[float, Quantity("length", "0 in", "2 in")] = asked_outside(
        "0.01 in",
        "1/2 in",
        key(
            "clear gap between neighboring barrels or plates",
            default="1/16 in",
            source="assumption: saw cut plus paint",
        ),
    )
    pin: Diameter | None = key("diameter of the pin", default=None, example="3/4 in")
    pin_steel: Steel = steel_key()
    barrel_wall: Plate | None = key("wall of the barrel", default=None, example="3/16 in")
    barrel_steel: Steel = steel_key()
    plant_barrel_length: Short | None = asked_outside(
        "1/4 in",
        "12 in",
        key("length of one barrel or ear on the plant", default=None, example="1 1/4 in", derived="as barrel_length"),
    )
    plant_barrel_wall: Plate | None = key(
        "wall of a barrel, or metal round the hole of an ear, on the plant",
        default=None,
        example="1/4 in",
        derived="as barrel_wall",
    )
    barrel_on: Literal["nose", "top", "under"] | None = key(
        "face of the member at the hinge that the box barrels are welded to: its nose toward the plant, its top, its "
        "underside",
        default=None,
        example="nose",
        derived="the worst of them, whichever way the hinge pulls",
    )
    weld: Leg | None = key("fillet leg that joins a barrel to box or plant", default=None, example="3/16 in")
    weld_length: Run | None = key("weld on each barrel, both of its runs added", default=None, example="3 in")
    ear: Ear | None = key(
        "ear of the box, one at each side or on either side of a center pivot's lug; not assessed when omitted",
        default=None,
    )
    plant_ear: Ear | None = key(
        "ear of the plant, all alike, or the one lug of a center pivot; not assessed when omitted", default=None
    )
    shear: Literal["single", "double"] | None = key(
        "plant ears beside each ear of the box: one on one side of it (single, which counts where nothing is said), or "
        "one on either side (double)",
        default=None,
        example="double",
    )
    above_ground: Extent | None = key("pin axis above the ground", default=None, example="40 in")
    aligned: bool = key(
        "barrels line-bored, so that all of them bear",
        default=False,
        source="assumption: alignment unknown, one barrel of the box carries",
    )
    pin_retained: bool = key(
        "pin kept from jumping out and from sliding endwise", default=False, source="assumption: pin not retained"
    )


class Lug(Section):
    """A plate with a hole that a line pulls on."""

    plate: Plate = asked_outside("1/8 in", "2 in", key("thickness of the plate", example="3/8 in"))
    hole: Diameter = key("diameter of the hole", example="11/16 in")
    edge: Short = key("hole center to the edge along the pull", example="1 1/8 in")
    width: Short = key("width of the plate at the hole, across the pull", example="2 1/4 in")
    weld: Leg | None = key("fillet leg", default=None, example="1/4 in")
    weld_length: Run | None = key(
        "length of the weld on one face of the plate, both faces being welded; no longer than the plate's foot",
        default=None,
        example="2 1/4 in",
    )
    foot: Short | None = key(
        "length of the plate where it is welded, for one that is wider at its foot than at its hole",
        default=None,
        example="2 1/4 in",
        derived="as width",
    )
    steel: Steel = steel_key()
    stand_off: Annotated[float, Quantity("length", "0 in", "40 in")] = key(
        "weld to hole center, at least half the hole",
        default="0 in",
        source="assumption: the edge distance is taken where nothing is stated",
    )
    through: bool = key(
        "plate goes through the tube in a slot and is welded to both of its faces",
        default=False,
        source="assumption: plate welded to one face",
    )
    turned: Angle = key(
        "plate turned out of the side view of the box, about the normal of the floor",
        default="0 deg",
        source="assumption: plate in line with the box",
    )
    pin: Diameter | None = key(
        "diameter of what goes through the hole",
        default=None,
        example="5/8 in",
        derived="the pin of the shackle next to the lug",
    )


class Hanger(Section):
    """Where the lines pull on the box, one on each side."""

    at: Annotated[float, Quantity("length", "0 in", "400 in", above=True)] = key(
        "along the floor from the hinge", example="6 ft 6 in"
    )
    height: Annotated[float, Quantity("length", "-48 in", "100 in")] = key(
        "hole above the floor; negative is below", example="7 in"
    )
    spacing: Spacing = key("center to center of the two hangers", example="31 in")
    lug: Lug | None = key("the lug; not assessed when omitted", default=None)


class Brace(Section):
    """A knee brace of the perch post, in the side view."""

    foot_downstream: Station = asked_outside(
        "4 in", "200 in", key("foot of the brace from the post axis, downstream positive", example="-18 in")
    )
    foot_below: Extent = key("foot of the brace below the perch lug", example="52 in")
    top_below: Annotated[float, Quantity("length", "0 in", "400 in")] = key(
        "where the brace meets the post, below the perch lug", example="6 in"
    )
    shape: Shape = key("shape of the brace", example="HSS1-1/2x1-1/2x1/8")
    steel: Steel = steel_key()


class Post(Section):
    """The post that carries a perch lug."""

    shape: Shape = key("shape of the post", example="HSS2-1/2x2-1/2x3/16")
    free_length: Extent = key("base weld to perch lug", example="60 in")
    steel: Steel = steel_key()
    weld: Leg | None = key("fillet leg of the base weld, all round", default=None, example="1/4 in")
    lug_offset: Annotated[float, Quantity("length", "-20 in", "20 in")] = key(
        "perch lug off the post axis, across, outward positive",
        default="0 in",
        source="assumption: lug on the post axis",
    )
    cap: bool = key(
        "top of the post closed by a cap plate, welded all round", default=False, source="assumption: open top"
    )
    past_lug: Annotated[float, Quantity("length", "0 in", "100 in")] = asked_outside(
        "1/16 in",
        "36 in",
        key("how far the post runs on above the lug's weld", default="0 in", source="assumption: lug at the very top"),
    )
    brace: Brace | None = key("knee brace", default=None)


class Perch(Section):
    """Where the lines hang from, one on each side."""

    downstream: Station = key(
        "hole of the lug from the hinge axis, level, downstream positive; the axis of the post lies behind it, half "
        "the post and the stand_off of the lug (its edge where none is stated) upstream",
        example="-9 in",
    )
    height: Annotated[float, Quantity("length", "-400 in", "400 in")] = key("lug above the hinge axis", example="86 in")
    spacing: Spacing = key("center to center of the two perch lugs", example="38 in")
    lug: Lug | None = key("the lug; not assessed when omitted", default=None)
    post: Post | None = key("the post; not assessed when omitted", default=None)


class Link(Section):
    """One rated part of a line."""

    kind: LinkKind = key("what it is", example="shackle")
    name: Text | None = key("what the shop calls it", default=None, example="bow shackle at the hanger")
    count: Annotated[int, Whole(1, 20)] = key("how many alike in a row", default=1, source="one of them")
    length: Annotated[float, Quantity("length", "1/4 in", "400 in")] | None = key(
        "pin to pin", default=None, example="1 5/8 in"
    )
    size: Diameter | None = key(
        "trade size: body of a shackle, chain size, thread of a turnbuckle or eyebolt", default=None, example="3/8 in"
    )
    diameter: Diameter | None = key("diameter of the rope", default=None, example="5/16 in")
    table: Text | None = key("table of the rope; see `rigcheck tables rope`", default=None, example="rope_6x19_fc_ips")
    column: Text | None = key("column of that table when it has several", default=None, example="ips")
    grade: Text | None = key(
        "grade of a chain (30, 43, 70, 80, 100) or shackle (carbon, alloy)", default=None, example="70"
    )
    termination: RopeEnd | None = key("how the rope is ended by the user", default=None, example="clips")
    clips: Annotated[int, Whole(0, 20)] | None = key("clips at each end", default=None, example=3)
    bend_diameter: Diameter | None = key(
        "pin or thimble the eye of the rope goes round", default=None, example="5/8 in"
    )
    wll: Rating | None = key("working load limit as marked; beats every table", default=None, example="1500 lb")
    mbf: Rating | None = key("published minimum breaking force", default=None, example="8520 lb")
    proof: Rating | None = key("proof load as certified", default=None, example="3000 lb")
    end: Literal["jaw", "eye", "hook"] | None = key("end fitting of a turnbuckle", default=None, example="jaw")
    thimble: bool | None = key("the eyes of the rope are made over thimbles of its size", default=None, example=True)
    side_angle: Annotated[float, Quantity("angle", "0 deg", "90 deg")] | None = key(
        "angle of the pull off the plane of the link, or off the bolt of an eyebolt",
        default=None,
        example="10 deg",
        derived="pulled in line; an eyebolt at the worst angle of its table",
    )
    shoulder: bool | None = key(
        "an eyebolt with a shoulder that is seated; without, it is for pulls along its bolt alone",
        default=None,
        example=True,
    )
    carries: Literal["line", "part", "lead"] = key(
        "the whole line, one of its parts, or the lead to the hoist",
        default="line",
        source="assumption: the whole line",
    )
    rated_to_suspend: bool | None = key("marked by its maker for holding a hung load", default=None, example=True)
    lift: Annotated[float, Quantity("length", "1 in", "400 in")] | None = asked_outside(
        "2 in", "360 in", key("how far a hoist takes up, as its maker states", default=None, example="60 in")
    )
    headroom: Annotated[float, Quantity("length", "3 in", "400 in")] | None = key(
        "shortest hook to hook of a hoist, taken up all the way", default=None, example="13 in"
    )
    modulus: Annotated[float, Quantity("stress", "1000 psi", "40000000 psi")] | None = asked_outside(
        "3000000 psi",
        "30000000 psi",
        key(
            "stretch modulus of the rope",
            default=None,
            example="13000000 psi",
            derived="low end of the published range",
            only="wire rope",
        ),
    )
    area: Annotated[float, Quantity("area", "0 in2", "20 in2", above=True)] | None = asked_outside(
        "0.005 in2",
        "3 in2",
        key(
            "metallic area",
            default=None,
            example="0.04 in2",
            derived="published area factor times diameter squared",
            only="wire rope",
        ),
    )
    stiffness: Annotated[float, Quantity("stiffness", "200 lb/in", "100000000 lb/in")] | None = asked_outside(
        "1000 lb/in", "1000000 lb/in", key("pull for an inch of stretch", default=None, example="12500 lb/in")
    )


class Line(Section):
    """One line; the other side has the same. Links in order from hanger to perch."""

    parts: Count = key("parts of line between hanger and perch", default=1, source="a single line")
    sheave_efficiency: Annotated[float, Quantity("fraction", "50 %", "100 %")] = key(
        "pull kept over each sheave", default="95 %", source="assumption: plain bushings, no published source"
    )
    wear: Share = asked_outside(
        "1 %",
        "60 %",
        or_lowest("10 %", key("taken off every capacity of the line", default="0 %", source="assumption: new parts")),
    )
    backup_slack: Annotated[float, Quantity("length", "0 in", "24 in")] = key(
        "slack left in the backup", default="1/4 in", source="assumption: snugged by hand"
    )
    link: Annotated[tuple[Link, ...], Rows(1)] = key("the links, one [[line.link]] each")
    backup: tuple[Link, ...] = key("rated links beside a pull-only device, one [[line.backup]] each", default=())
