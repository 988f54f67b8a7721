"""Which cutter to pick up for a feature, and why not each of the others."""

from math import inf

from passplot.cutting.drive import power_words
from passplot.cutting.grades import FACE_SHARE, Grade, graded
from passplot.cutting.pace import setting_of
from passplot.cutting.rules import ROUGHING_WALL_IN, ROUGHING_WALL_MM
from passplot.cutting.speeds import seconds_per_turn
from passplot.records.choice import CHOSEN, NO, WOULD_DO, FeatureChoice, Judged, Needs
from passplot.records.job import Job

_BEFORE_PRICE = 5
"""How many of the grades come before the price."""


def choose(job: Job, needs: Needs) -> FeatureChoice:
    """Every milling cutter of the crib judged for a feature, the one to pick up first."""
    setting = setting_of(job)
    mills = [cutter for cutter in job.shop.cutters if cutter.form != "drill"]
    grades = [graded(setting, job.limits, cutter, needs) for cutter in mills]
    against = {one.cutter.id: _against(job, needs, one) for one in grades}
    able = [one for one in grades if not against[one.cutter.id]]
    field = _Field(job, needs, tuple(able))
    able.sort(key=lambda one: (*field.key(one), one.cutter.id))
    judged = [
        _judged(one, WOULD_DO if index else CHOSEN, _reasons(field, one, able), field.key(one))
        for index, one in enumerate(able)
    ]
    for one in grades:
        if why := against[one.cutter.id]:
            judged.append(_judged(one, NO, why, (), _roughs(needs, one)))
    return FeatureChoice(needs, tuple(judged))


class _Field:
    """The cutters that will do for a feature, and the best of them in each respect."""

    def __init__(self, job: Job, needs: Needs, able: tuple[Grade, ...]) -> None:
        self.job, self.needs = job, needs
        self.quickest = min((one.minutes for one in able), default=0.0)
        self.stiffest = max((one.stiffness for one in able), default=1.0)
        short = (one.stiffness for one in able if not one.long_flutes)
        self.stiffest_short = max(short, default=0.0)

    def key(self, one: Grade) -> tuple[float, ...]:
        """What cutters are sorted by."""
        return one.key(self.quickest, self.stiffest_short)

    def alike(self, one: Grade, other: Grade) -> bool:
        """Whether two differ in nothing but price and size."""
        return self.key(one)[:_BEFORE_PRICE] == self.key(other)[:_BEFORE_PRICE]


def _against(job: Job, needs: Needs, one: Grade) -> list[str]:
    """What rules a cutter out."""
    cutter = one.cutter
    if cutter.form == "face mill" and needs.kind != "face":
        return ["a face mill is for faces: it makes no wall"]
    if cutter.form == "ball":
        return ["a ball end leaves no flat floor"]
    if cutter.form == "roughing" and job.finish.skims and needs.kind != "face":
        least = f"{ROUGHING_WALL_IN:.3f} in" if job.inch else f"{ROUGHING_WALL_MM:g} mm"
        return [
            f"a roughing cutter leaves a ribbed wall: at least {least} for another to finish; "
            f'name both, cutter = ["{cutter.id}", a finishing cutter]'
        ]
    why = [text.removeprefix(f"{needs.feature}: ") for text in needs.misfit(cutter.id)]
    if needs.narrowest is not None and cutter.cutting_diameter > needs.narrowest + 1e-9:
        why = [f"too big for the narrowest place, {_n(job, needs.narrowest)} across"]
    if one.minutes == inf:
        why.append("the motor drives no cut with it")
    elif not one.bounds.drives(one.load):
        power = one.bounds.running.power_hp or 0.0
        why.append(
            f"takes {power_words(one.load.motor_hp, inch=job.inch)} at the motor, which has "
            f"{power_words(power, inch=job.inch)}"
        )
    return why


def _roughs(needs: Needs, one: Grade) -> bool:
    """Whether a cutter that is ruled out may yet rough ahead of another that finishes."""
    cutter = one.cutter
    return (
        cutter.form in ("square end", "roughing")
        and cutter.flute_length >= needs.depth - 1e-9
        and (needs.narrowest is None or cutter.cutting_diameter < needs.narrowest)
        and one.minutes < inf
        and one.bounds.drives(one.load)
    )


def _reasons(field: _Field, one: Grade, able: list[Grade]) -> list[str]:
    """Why a cutter that will do stands where it does, in a machinist's words."""
    job, first = field.job, able[0]
    said = [*_of_material(one), *_of_form(field, one), *_of_size(field, one, first)]
    if one is first:
        width = f"takes {_n(job, one.width)} wide at {_n(job, one.depth)} deep"
        said.insert(0, f"{width}, {power_words(one.load.motor_hp, inch=job.inch)} at the motor")
        if len(able) > 1 and field.alike(able[1], one) and one.cutter.price:
            said.append(f"cheapest of those that do it alike: {one.cutter.price:g}")
    elif not said and field.alike(one, first):
        said.append(f"does what {first.cutter.id} does")
    if len(able) > 1:
        share = 100 * one.stiffness / field.stiffest
        of = f"{share:.0f} % as stiff as the stiffest" if share < 100 else "the stiffest"
        said.append(f"{of} that will do")
    return said


def _of_material(one: Grade) -> list[str]:
    cutter, material = one.cutter, one.bounds.running.material
    said = []
    if cutter.material != "carbide" and material.group == "N":
        said.append(f"{cutter.material} is a fair first choice in {material.name}")
    elif cutter.material != "carbide":
        text = f"{cutter.material} in {material.name} would do, slower than carbide"
        fluid = material.fluid_hss
        said.append(text if fluid == "dry" else f"{text} and with {fluid}")
    if cutter.flutes > material.most_flutes:
        said.append(f"{cutter.flutes} flutes leave the chips of {material.name} little room")
    return said


def _of_form(field: _Field, one: Grade) -> list[str]:
    cutter, job, needs = one.cutter, field.job, field.needs
    said = []
    if one.too_long(field.stiffest_short):
        said.append(
            f"flutes of {_n(job, cutter.flute_length)} for {_n(job, needs.depth)} of depth: far "
            "longer than needed, so it is whippy and only the tips wear"
        )
    if one.foot:
        said.append(f"leaves a radius of {_n(job, one.foot)} at the foot of the wall")
    if one.heavy is not None:
        said.append(f"asked to take more than it should: {_n(job, one.heavy)} wide at that depth")
    if one.whippy:
        said.append(f"bends too far for a full cut at {_n(job, one.depth)} deep: lighter passes")
    if cutter.form == "face mill":
        said.append(f"made for faces: {_n(job, FACE_SHARE * cutter.cutting_diameter)} a pass")
    if cutter.actual is not None:
        said.append(f"reground: it measures {cutter.actual:g}, and the plan goes by that")
    return said


def _of_size(field: _Field, one: Grade, first: Grade) -> list[str]:
    cutter = one.cutter
    if one is first:
        return []
    said = []
    slow = one.slow(field.quickest)
    if slow and cutter.cutting_diameter < first.cutter.cutting_diameter:
        said.append(
            f"small for so much metal: {one.minutes:.0f} min of roughing against "
            f"{first.minutes:.0f}"
        )
    elif slow:
        said.append(f"slower: {one.minutes:.0f} min of roughing against {first.minutes:.0f}")
    price, other = cutter.price, first.cutter.price
    if price is not None and other is not None and price > other:
        text = f"dearer, {price:g} against {other:g}"
        if cutter.cutting_diameter > first.cutter.cutting_diameter and not slow:
            text += ", and larger than the job needs"
        said.append(text)
    return said


def _judged(
    one: Grade, verdict: str, reasons: list[str], grades: tuple[float, ...], roughs: bool = False
) -> Judged:
    unit, machine = one.bounds.setting.unit, one.bounds.setting.machine
    feed = one.load.feed * unit
    return Judged(
        cutter=one.cutter.id,
        verdict=verdict,
        reasons=tuple(reasons),
        spindle_speed=one.bounds.running.speed_rpm,
        feed=feed,
        seconds_per_turn=seconds_per_turn(machine, feed),
        width=one.width,
        depth=one.depth,
        deflection=one.load.deflection * unit,
        power_hp=one.load.power_hp,
        motor_hp=one.load.motor_hp,
        grades=grades,
        minutes=one.minutes,
        roughs=roughs,
    )


def _n(job: Job, length: float) -> str:
    return f"{length:.{3 if job.inch else 1}f}".rstrip("0").rstrip(".")
