"""Standing texts of the shop card: what never to do, when to stop, what to look at before a hang and a haul."""

NEVER = (
    "Never go under or on the box unless it is blocked.",
    "Never level, fold, hook or unhook with anything in the box.",
    "Never pull on when the box catches, nor at dead center.",
    "Never hang it on a pull-only come-along, or on a smaller or unmarked part.",
    "Never shut the outlet with water on.",
    "Never tow or drive with gravel in it, or on the hoists alone.",
)
"""The six that stand on the first page."""

HANGS = "under the box, on it or in line with a loaded line at any time it hangs: block it first."
AT_WORK = "all round the hinge while the box is hung, leveled, folded or let down, and folded until it is pinned."
STANDING = "A check, not a certificate: a licensed engineer and the local rules decide."
OVERLEAF = "Lists before a hang and a haul, sizes: next pages."
OVERLEAF_OVER = "All that is over, and the sizes: next page."

STOP = (
    "The bed is at the mark, or gravel at the top of a side.",
    "The outlet is plugged, or water runs over the sides.",
    "A line is slack, the two lines differ, or the box leans.",
    "The tail hangs lower than yesterday with the same bed.",
    "Anything is cracked, bent, slid or frayed; the hinge leaks anew.",
    "A latch is open, a pawl half set, a handle loose.",
    "The tail touched the ground, or the plant moved or settled.",
)

BEFORE_HANG = (
    "Box empty: no gravel, no water, mats as weighed",
    "Tags read: ratings of this card or higher, no side loads",
    "Hooks latched, shackle pins in and moused, no tip loading",
    "Rope: no kink, birdcage, heat mark; few broken wires",
    "Clips: saddle on the live end, tightened",
    "Hoist: pawl set, handle tied, brake holds for ten minutes",
    "Lugs, posts, barrels, welds: no crack, no rust line",
    "No welding on a lug, post or rail that carries",
    "Hinge pin: straight, in all barrels, kept from jumping out",
    "Pitch and line lengths as on this card, both lines alike",
    "Keep-out marked; everybody knows who gives the sign",
)

PLANT_FEET = "Plant on its feet as described, none nearer to the others, all on firm ground"
PLANT_UNKNOWN = "Plant: whether it tips with a packed box is NOT assessed; see that it cannot"

BEFORE_HAUL = (
    "Gravel and loose things out, mats out or tied in",
    "Box against its stops, pinned or latched; a lean is no latch",
    "Tie-downs on by number and rating, tags read, no chafe",
    "Hoists relieved or taken off: they are not tie-downs",
    "Hinge pin held, no sideways play in the hinge",
    "Width and height measured; lights and plate not covered",
    "After the first 50 miles (80 km): look at all of it again",
)

KEEP_OUT = 36.0  # in beyond the length of the box; common practice, no source

RECHECKS = 6  # blank places for a date
