"""Cautions, in our own words, with where each comes from.

They help; they do not replace the machine's manual, the rules of the place and a qualified
person, and the sheet says so.
"""

from passplot.records.plan import Plan
from passplot.sheet.scene import Scene
from passplot.sheet.setup_text import grip_of

ALWAYS = (
    "The machine's manual, the rules of your shop and a qualified person come before this sheet.",
    "Eye protection on, guards in place, no gloves, nothing loose near the spindle.",
    "Clamp the work before the cutter comes near it. Drawbar wrench off before the start.",
    "Stay by it. Spindle standing before you measure, touch or change anything.",
    "Speed and feed are not changed in the cut.",
    "Brush and pliers for chips, never the hand.",
)
"""29 CFR 1910.212 and 1910.133; Mich. Admin. Code R 408.12640; US Army TM 1-1500-204-23-8; college
shop-safety rules; the drawbar wrench is common practice, no source."""


def standing(plan: Plan) -> tuple[str, str]:
    """The two cautions that stand out on the set-up sheets."""
    grip = grip_of(plan.job)
    if grip is not None and grip.meets_jaws:
        return "CUTTER WOULD MEET THE JAWS", "CHECK ROTATION FIRST"
    return "CLAMP FIRST, SPINDLE OFF", "CHECK ROTATION FIRST"


def two_that_matter(scene: Scene) -> tuple[str, str]:
    """The two cautions of this set-up that stand out on the sheet."""
    found: list[str] = []
    if scene.job.climb:
        found.append("CLIMB CUT: NO BACKLASH")
    if any(each.purpose == "slot" for each in scene.passes):
        found.append("FULL WIDTH: EASE THE FEED")
    found.append("SPINDLE STOPPED TO MEASURE")
    found.append("CHECK ROTATION FIRST")
    return found[0], found[1]
