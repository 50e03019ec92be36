"""The least that makes a case, as somebody would say it, and the options that say it."""

NEEDED = {
    "title": "Tern Gully", "box.length": "9 ft 5 in", "box.width": "27 in", "box.side_height": "7 1/4 in",
    "box.pitch": "1 1/4 in/ft", "box.sheet": "12 ga", "hanger.at": "6 ft 2 in", "hanger.height": "7 1/4 in",
    "hanger.spacing": "31 in", "perch.downstream": "-21 in", "perch.height": "88 in", "perch.spacing": "38 in",
    "line.link[1].kind": "lever hoist", "line.link[1].wll": "1870 lb", "line.link[1].rated_to_suspend": "yes",
    "line.link[1].headroom": "14 in",
}  # fmt: skip


def options(answers):
    return [word for key, value in answers.items() for word in ("--set", f"{key}={value}")]


SAID = options(NEEDED)
