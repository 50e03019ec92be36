"""The cautions that end everything people read."""

CAUTIONS = (
    "This is a check, not a certificate, a rating or a permission.",
    "A licensed engineer and the local code, mine-safety and road rules decide; ask which of them apply to you.",
    "Nobody under, on or inside the fall path of a hung or folded box. Block it mechanically before working on it.",
    "Rated hardware only, inspected, with latches. What is stamped on a part beats every table.",
    "A come-along rated for pulling is not a suspender, and no material hoist holds people.",
    "Unknown scrap steel is taken at the lowest grade; parts are taken as undamaged and fitted as described.",
    "Not covered: crane lifts, earthquake, ground, plant frame, fatigue, corrosion, brittle fracture.",
)
