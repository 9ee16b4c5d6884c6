"""Advice: verified fixes, flip points, fragile assumptions.

All of it is found by running the path from Project to checks again, so none of
it ever sits inside that path, and none of it runs unless it is asked for or
printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from linecalc.advice.fixes import fixes
from linecalc.advice.flips import flip_points, texts_by_check
from linecalc.advice.fragile import fragile_assumptions
from linecalc.advice.records import Advice, Fix, Flip, Fragile, Key, NoFix, Setting, Turn
from linecalc.advice.rerun import family
from linecalc.check import Check, Level
from linecalc.study import Study

__all__ = ["Advice", "Fix", "Flip", "Fragile", "NoFix", "Setting", "Turn", "advise"]


def advise(study: Study, checks: Iterable[Check] | None = None) -> Advice:
    """Advice on a study, for the checks given or for all of them."""
    asked = study.checks if checks is None else tuple(checks)
    found, unfixed = fixes(study, asked)
    flips = flip_points(study, asked)
    told = texts_by_check(flips)
    checks = tuple(_with_fix(_with_flip(check, told), found, unfixed) for check in study.checks)
    return Advice(replace(study, checks=checks), found, unfixed, flips, fragile_assumptions(study))


def _with_flip(check: Check, told: Mapping[Key, str]) -> Check:
    """The check with its flip points; what a bus still takes stays beside them."""
    flip = told.get((family(check.rule), check.subject))
    if flip is None:
        return check
    own = f"{check.flip}; " if check.flip and family(check.rule) == "busbar" else ""
    return replace(check, flip=f"{own}{flip}")


def _with_fix(check: Check, found: tuple[Fix, ...], unfixed: tuple[NoFix, ...]) -> Check:
    if check.level is not Level.FAIL:
        return check
    texts = [fix.text for fix in found if (fix.rule, fix.subject) == (check.rule, check.subject)]
    if texts:
        return check.with_fix("; or ".join(texts))
    reason = next((none.reason for none in unfixed if (none.rule, none.subject) == (check.rule, check.subject)), None)
    return replace(check, unfixed=reason)
