"""A box that another one feeds: which file describes that one, and where both hinges stand to each other."""

from typing import Annotated

from rigcheck.case.models.box import Text
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.schema.sections import Section, key

Apart = Annotated[float, Quantity("length", "-400 in", "400 in")]


class FedBy(Section):
    """The box before this one on the same plant, of which the water and its feed come and how far they fall."""

    case: Text = key("file of the box that feeds this one, in the same folder", example="upper-box.toml")
    downstream: Apart = key("hinge axis of this box from that of the other one, level; negative is upstream",
                            example="98 in")  # fmt: skip
    below: Apart = key("hinge axis of this box below that of the other one; negative is above", example="16 in")
