"""Which cutter to pick up for a feature, and why not each of the others."""

from passplot.cutting.drive import power_words
from passplot.cutting.grades import FACE_SHARE, Grade, graded
from passplot.cutting.pace import setting_of
from passplot.cutting.speeds import seconds_per_turn
from passplot.records.choice import CHOSEN, NO, WOULD_DO, FeatureChoice, Judged, Needs
from passplot.records.job import Job
from passplot.records.shop import Cutter

ROUGHING_WALL_IN, ROUGHING_WALL_MM = 0.030, 0.8


def choose(job: Job, needs: Needs) -> FeatureChoice:
    """Every milling cutter of the crib judged for a feature, the one to pick up first."""
    setting = setting_of(job)
    mills = [cutter for cutter in job.shop.cutters if cutter.form != "drill"]
    grades = [graded(setting, job.limits, cutter, needs) for cutter in mills]
    against = {one.cutter.id: _against(job, needs, one) for one in grades}
    able = [one for one in grades if not against[one.cutter.id]]
    best = min((one.minutes for one in able), default=0.0)
    able.sort(key=lambda one: (*one.key(best), one.cutter.id))
    first = able[0] if able else None
    stiffest = max((one.stiffness for one in able), default=1.0)
    judged = []
    for one in able:
        reasons = _reasons(job, needs, one, able, best)
        reasons.append(f"stiffness {one.stiffness / stiffest:.0%} of the stiffest that will do")
        verdict = CHOSEN if one is first else WOULD_DO
        judged.append(_judged(one, verdict, reasons, one.key(best)))
    for one in grades:
        if why := against[one.cutter.id]:
            judged.append(_judged(one, NO, why, ()))
    return FeatureChoice(needs, tuple(judged))


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
    if one.minutes == float("inf"):
        why.append("the motor drives no cut with it")
    elif not one.bounds.drives(one.load):
        power = one.bounds.running.power_hp or 0.0
        why.append(
            f"takes {power_words(one.load.motor_hp, inch=job.inch)} at the motor, which has "
            f"{power_words(power, inch=job.inch)}"
        )
    return why


def _reasons(job: Job, needs: Needs, one: Grade, able: list[Grade], best: float) -> list[str]:
    """Why a cutter that will do stands where it does, in a machinist's words."""
    first = able[0]
    said = [*_of_material(one), *_of_form(job, needs, one, first), *_of_size(job, one, first, best)]
    if one is first:
        width = f"takes {_n(job, one.width)} wide at {_n(job, one.depth)} deep"
        said.insert(0, f"{width}, {power_words(one.load.motor_hp, inch=job.inch)} at the motor")
        if len(able) > 1 and able[1].key(best)[:4] == one.key(best)[:4] and one.cutter.price:
            said.append(f"cheapest of those that do it alike: {one.cutter.price:g}")
        return said
    if not said and one.key(best)[:4] == first.key(best)[:4]:
        said.append(f"does what {first.cutter.id} does")
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


def _of_form(job: Job, needs: Needs, one: Grade, first: Grade) -> list[str]:
    cutter = one.cutter
    said = []
    if one.long_flutes and not first.long_flutes:
        said.append(
            f"flutes of {_n(job, cutter.flute_length)} for {_n(job, needs.depth)} of depth: far "
            "longer than needed, so it is whippy and only the tips wear"
        )
    if one.whippy:
        said.append(f"bends too far for a full cut at {_n(job, one.depth)} deep: lighter passes")
    if cutter.form == "face mill":
        said.append(f"made for faces: {_n(job, FACE_SHARE * cutter.cutting_diameter)} a pass")
    if cutter.actual is not None:
        said.append(f"reground: it measures {_n(job, cutter.actual)}, and the plan goes by that")
    return said


def _of_size(job: Job, one: Grade, first: Grade, best: float) -> list[str]:
    cutter = one.cutter
    if one is first:
        return []
    said = []
    slow = one.slow(best)
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


def _judged(one: Grade, verdict: str, reasons: list[str], grades: tuple[float, ...]) -> Judged:
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
    )


def in_order(job: Job, choices: tuple[FeatureChoice, ...]) -> tuple[Cutter, ...]:
    """Cutters that one alone might do the whole job with, the best first.

    A cutter stands where its worst feature puts it; what is ruled out for one comes last.
    """
    worst: dict[str, tuple[float, ...]] = {}
    for cutter in job.shop.cutters:
        mine = [one for each in choices for one in each.cutters if one.cutter == cutter.id]
        if mine and all(one.grades for one in mine):
            worst[cutter.id] = tuple(
                max(row) for row in zip(*(m.grades for m in mine), strict=True)
            )
    able = [cutter for cutter in job.shop.cutters if cutter.id in worst]
    return tuple(sorted(able, key=lambda cutter: (worst[cutter.id], cutter.id)))


def _n(job: Job, length: float) -> str:
    return f"{length:.3f}".rstrip("0").rstrip(".") if job.inch else f"{length:.1f}"
