"""Standing texts of a report: what the method leaves out, how the forces are shared, what the reviewer fills in."""

POUNDS = "lb is pound-force throughout, also in lb*in and lb/in."
BEFORE = (
    "Load cases and load sharing are named in short: free to twist, torsionally rigid, hinge free in roll, one line "
    "alone and one line broken are told under Loads; leans left means that the plant leans down to the left by its "
    "cross slope, person left at a length that somebody stands on the left rail, that far from the hinge. F numbers "
    "stand under the tables of checks, S numbers under Sources."
)

SHARING = (
    "free to twist: no stiffness against twist; each rail's load goes to its own line by the lever rule.",
    "torsionally rigid: box and hinge rigid, lines of equal length share alike, the hinge takes the whole roll couple.",
    "hinge free in roll: a torsionally rigid box whose hinge gives no help against roll; the lines alone balance it.",
    "one line alone: all of it on one line, as when the lines are worked in turn; looked at for each side.",
    "one line broken: that load case only, at the first peak, against strength.",
    "leans left, leans right: by plant.cross_slope to that side; every hung load case is looked at both ways.",
)

AXES = (
    "Origin on the hinge axis; x level from head to tail, y to the left looking downstream, z up. On the box: s along "
    "the floor from the hinge, n square to the floor. Tension is positive. Hinge forces are those of the plant on the "
    "box unless said otherwise. Demands are rounded up and capacities down, as printed here; the JSON of the same "
    "result carries all digits."
)

MARKS = (
    "Marks of clauses: source checked means that the figure was read in public text, source not checked that it was "
    "not and must be verified. What follows is the page docs/limits.md, whole."
)

REVIEW_FIELDS = (
    "Name",
    "License number",
    "State, province or territory",
    "Date",
    "Revision of this report and hash checked against the file",
    "Reviewed / not reviewed (strike one out)",
    "Inspection of welds: by, method, date",
)

NOT_THERE = {
    "fold": "The case does not say how far the box is folded (fold.to): no fold curve, and nothing folded is checked.",
    "rail": "No rail is bent in any state in which the lines hold the box, so there are no diagrams.",
    "length": "No length curve was made for this report: it was left out by --no-length. `rigcheck length` draws it.",
    "haul": "The case does not say how far the box is folded (fold.to): the road and the parked box are not assessed.",
    "working": "No worked calculation is bound into this report: it was left out, or the lines pass through the hinge "
    "axis and there are no numbers to put in. `rigcheck working` prints it.",
    "confirm": "No independent frame check was made for this report; `rigcheck check --confirm` makes it.",
}
