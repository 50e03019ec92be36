"""What the box goes through: water, gravel, people, ice, wind, towing, folding, the road; and the chosen factors."""

from typing import Annotated, Literal

from rigcheck.case.models.box import Text
from rigcheck.case.models.support import Lug, Rating
from rigcheck.case.schema.kinds import Point, Quantity, Whole
from rigcheck.case.schema.sections import Section, asked_outside, key, or_lowest, usual_key

Depth = Annotated[float, Quantity("length", "0 in", "48 in")]
Soaked = Annotated[float, Quantity("density", "90 lb/ft3", "300 lb/ft3")]
Loose = Annotated[float, Quantity("density", "60 lb/ft3", "300 lb/ft3")]
Frozen = Annotated[float, Quantity("density", "45 lb/ft3", "70 lb/ft3")]
Flow = Annotated[float, Quantity("flow", "0 gpm", "20000 gpm")]
Speed = Annotated[float, Quantity("speed", "30 mph", "250 mph")]
Factor = Annotated[float, Quantity("number", 1, 10)]
Acceleration = Annotated[float, Quantity("number", 0, 10)]
Place = Annotated[tuple[float, float, float], Point()]


class Water(Section):
    """Water and feed when the plant runs."""

    flow: Flow = asked_outside("20 gpm", "5000 gpm", key("water through the whole box", example="180 gpm"))
    roughness: Annotated[float, Quantity("number", 0.005, 0.2)] = usual_key(
        "Manning n of the riffled floor",
        default=0.035,
        source="published n for coarse, stony beds; assumption for riffles",
    )
    lip: Depth | None = asked_outside(
        "1/2 in",
        "36 in",
        key(
            "lowest crest at the tail above the floor; what a shut outlet spills over",
            default=None,
            example="5 in",
            derived="the top of the sides",
        ),
        none_at_zero=False,
    )
    feed: Annotated[float, Quantity("feed", "0 yd3/h", "1000 yd3/h")] = asked_outside(
        "1/4 yd3/h", "200 yd3/h", key("loose gravel fed", default="0 yd3/h", source="assumption: clear water")
    )
    solids_density: Loose = key(
        "loose weight of the feed", default="100 lb/ft3", source="2700 lb to the loose cubic yard"
    )
    solids_sg: Annotated[float, Quantity("number", 1, 8)] = key(
        "specific gravity of the grains", default=2.65, source="quartz"
    )
    fall: Annotated[float, Quantity("length", "0 in", "200 in")] = asked_outside(
        "1 in", "96 in", key("height the feed drops onto the head", default="0 in", source="assumption: no drop")
    )


class Bed(Section):
    """Gravel settled in the riffles."""

    depth: Depth = asked_outside(
        "1/8 in", "24 in", key("settled depth in running order", default="0 in", source="assumption: clean box")
    )
    density: Soaked = usual_key(
        "saturated weight of the bed",
        default="125 lb/ft3",
        source="common figure for saturated, worked-in gravel",
        usual="118 lb/ft3",
    )
    side_pressure: Annotated[float, Quantity("number", 0.2, 1)] = usual_key(
        "share of the weight of the grains under water that pushes sideways",
        default=0.5,
        source="earth at rest, 1 - sin 30 deg (Jaky, memory)",
    )
    heap: Depth = asked_outside(
        "1/8 in",
        "12 in",
        key("gravel above the sides when packed", default="0 in", source="assumption: struck level with the sides"),
    )


class Person(Section):
    """People on the box at clean-out."""

    weight: Annotated[float, Quantity("force", "100 lb", "1000 lb")] = usual_key(
        "weight of one person with tools",
        default="250 lb",
        source="assumption: a heavy person with tools",
    )
    people: Annotated[int, Whole(0, 10)] = usual_key("how many at once", default=1, source="assumption: one person")


class Ice(Section):
    """Ice in a box left over winter."""

    full: bool = usual_key("ice to the top of the sides", default=True, source="assumption: outlet frozen shut")
    depth: Depth = asked_outside(
        "1/8 in",
        "48 in",
        key("depth of ice over the bed when not full", default="0 in", source="used only when full = false"),
    )
    density: Frozen = key("weight of ice", default="57.2 lb/ft3", source="pure ice at freezing point")


class Wind(Section):
    """Wind speeds."""

    parked: Speed = usual_key(
        "service gust on the parked, folded box", default="90 mph", source="assumption: service gust"
    )
    hung: Speed = usual_key(
        "gust on the box that hangs empty or is being folded",
        default="40 mph",
        source="29 CFR 1926.968 high wind: work stops at 40 mph, at 30 mph where material is handled (memory)",
    )
    road: Speed = usual_key(
        "wind relative to the box on the road",
        default="75 mph",
        source="assumption: road speed and head wind",
    )


class Towing(Section):
    """Plant towed with the box hanging, as multiples of weight."""

    vertical: Factor = usual_key("down, weight included", default=2.0, source="assumption: 2 to 3 is common practice")
    fore_aft: Acceleration = usual_key("along the plant, either way", default=0.5, source="assumption, no source")
    side: Acceleration = usual_key("to either side", default=0.3, source="assumption, no source")


class Fold(Section):
    """Folding up for the road."""

    to: Annotated[float, Quantity("angle", "0 deg", "180 deg")] | None = asked_outside(
        "5 deg",
        "180 deg",
        key(
            "how far it is folded up from the deployed position; omit when it is not folded",
            default=None,
            example="92 deg",
        ),
    )
    one_line: bool = usual_key(
        "the lines may be worked in turn, so that one carries all",
        default=True,
        source="assumption: one person works both lines",
    )
    snub: bool = key("a snub line eases it past the balance point", default=False, source="assumption: none")
    snub_wll: Rating | None = asked_outside(
        "100 lb",
        "10000 lb",
        key(
            "working load limit of the weakest part of the snub line, as marked; not assessed when omitted",
            default=None,
            example="750 lb",
        ),
    )


class TieDown(Section):
    """A strap or chain that holds the folded box on the road."""

    name: Text | None = key("what the shop calls it", default=None, example="left head strap")
    wll: Rating = key("working load limit as marked", example="1000 lb")
    mbf: Rating | None = key("published breaking strength", default=None, example="3000 lb")
    start: Place = key("on the box: s, y, n", word="from", example=["9 ft", "14 in", "7 in"])
    end: Place = key("on the plant: x, y, z from the hinge", word="to", example=["-14 in", "14 in", "60 in"])
    kind: Literal["to anchor", "over, same side", "over, other side"] = key(
        "from the box to an anchor, or over the box and down on the same or the other side",
        default="to anchor",
        source="the plainest kind",
    )
    count: Annotated[int, Whole(1, 10)] = key("how many alike side by side", default=1, source="one of them")
    stiffness: Annotated[float, Quantity("stiffness", "1 lb/in", "10000000 lb/in")] | None = asked_outside(
        "50 lb/in",
        "20000 lb/in",
        key("pull for an inch of stretch", default=None, example="400 lb/in", derived="equal for all, by length"),
    )
    eyelet: Lug | None = key("the plate on the box that it hooks into; not assessed when omitted", default=None)
    eyelet_on: Literal["side wall", "stiffener", "end tube", "cross-member"] = key(
        "what the eyelet is welded to", default="side wall", source="assumption: the thinnest that it can be"
    )


class Stop(Section):
    """What the folded box leans on; it pushes only."""

    at: Place = key("touching point on the box: s, y, n", example=["8 ft", "0 in", "7 in"])
    direction: Literal["downstream", "upstream", "left", "right", "up", "down"] = key(
        "which way it pushes the box, as the plant stands at work", example="downstream"
    )
    capacity: Rating | None = asked_outside(
        "50 lb", "50000 lb", key("most it may push", default=None, example="2000 lb")
    )


class Haul(Section):
    """The road."""

    leading_end: Literal["head", "tail", "left", "right"] = key(
        "which end or side of the plant leads on the road", default="head", source="assumption: towed by the head"
    )
    left_over: Annotated[float, Quantity("fraction", "0 %", "100 %")] = usual_key(
        "share of the running bed still in the box",
        default="15 %",
        source="assumption: shovelled out, not washed",
    )
    hinge_above_road: Annotated[float, Quantity("length", "0 in", "200 in")] | None = asked_outside(
        "12 in",
        "120 in",
        key("pin axis above the road; needed for width and height on the road", default=None, example="50 in"),
        none_at_zero=False,
    )
    tie_down: tuple[TieDown, ...] = key("straps and chains, one [[haul.tie_down]] each", default=())
    stop: tuple[Stop, ...] = key("stops, one [[haul.stop]] each", default=())


class Weld(Section):
    """Weld metal and who welds."""

    electrode: Literal["E60", "E70", "E80"] = or_lowest(
        "E60", key("electrode class", default="E70", source="assumption: the common electrode")
    )
    hand: Literal["shop", "tested", "field"] = or_lowest(
        "field",
        key(
            "in the shop, by a tested welder, or in the field",
            default="shop",
            source="assumption: shop welds, not inspected",
        ),
    )
    made: Literal["finished", "tacked"] = key(
        "every weld as it is described, or a box that is only tacked and hung empty for trial",
        default="finished",
        source="as described",
    )
    tack: Annotated[float, Quantity("length", "1/4 in", "6 in")] | None = key(
        "tacked: length of one tack", default=None, example="3/4 in"
    )
    tack_leg: Annotated[float, Quantity("length", "1/16 in", "1 in")] | None = key(
        "tacked: fillet leg of a tack", default=None, example="1/8 in"
    )
    tack_spacing: Annotated[float, Quantity("length", "1 in", "60 in")] | None = key(
        "tacked: middle to middle of two tacks along a seam", default=None, example="12 in"
    )
    lugs: Literal["finished", "tacked"] = key(
        "tacked: whether hanger lugs and hinge are welded as described already",
        default="tacked",
        source="assumption: tacked like the rest, the careful choice",
    )


class Factors(Section):
    """Every factor that is a choice and not physics."""

    hung: Factor = usual_key(
        "on all that hangs", default=1.33, source="older ASCE 7 and IBC impact list, hangers (memory)"
    )
    step_down: Factor = usual_key(
        "on people, who step down onto the box; where hung is larger, hung instead, never both",
        default=1.5,
        source="assumption: a foot that steps down a stair pushes some 1.5 times the weight (memory); a jump is more",
    )
    surge: Factor = usual_key(
        "on the water a surge adds",
        default=2.0,
        source="suddenly applied load, energy balance (derivation)",
    )
    surge_depth: Factor = usual_key("depth of a surge over running depth", default=3.0, source="assumption, no source")
    folding: Factor = usual_key(
        "while folding",
        default=1.1,
        source="hand hoist; pendant crane in the older ASCE 7 impact list (memory)",
    )
    line_broken: Factor = usual_key(
        "on the jump when one line breaks",
        default=2.0,
        source="undamped step (derivation), used as an assumption",
    )
    road_down: Factor = usual_key(
        "vertical on the road, down, weight included", default=1.5, source="assumption, no source"
    )
    road_up: Acceleration = usual_key("vertical on the road, net up", default=0.5, source="assumption, no source")
    rope_design: Factor = key(
        "breaking force over working load, rope",
        default=5.0,
        source="ASME B30.9 (memory); published sling table (seen)",
    )
    chain_design: Factor = key("breaking force over working load, chain", default=4.0, source="ASME B30.9 (memory)")
    tipping: Factor = usual_key(
        "stabilizing over overturning moment of plant and box on the feet at work",
        default=1.5,
        source="assumption: common practice for what stands on the ground; no published source for such a plant",
    )
    tight_above: Annotated[float, Quantity("fraction", "10 %", "100 %")] = key(
        "utilization above which a part is called tight",
        default="85 %",
        source="assumption: room for what was not measured",
    )


class Measured(Section):
    """Measured weights of the finished box, empty, wet mats and riffles in it; they override the estimate."""

    empty_weight: Annotated[float, Quantity("force", "10 lb", "50000 lb")] | None = key(
        "whole empty box, wet mats and riffles in it", default=None, example="410 lb"
    )
    tail_lift: Annotated[float, Quantity("force", "1 lb", "50000 lb")] | None = key(
        "upward pull near the tail that just slackens both lines, box empty and hanging at its pitch",
        default=None,
        example="190 lb",
    )
    tail_lift_at: Annotated[float, Quantity("length", "1 in", "400 in")] | None = key(
        "level distance from the hinge axis to that pull", default=None, example="9 ft 10 in"
    )
