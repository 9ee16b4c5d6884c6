"""The label schedule: which labels the design needs, where, in our own words, with computed values."""

from __future__ import annotations

from linecalc.report.labels.records import Label, LabelValue, Signal, Stock
from linecalc.report.labels.schedule import label_schedule

__all__ = ["Label", "LabelValue", "Signal", "Stock", "label_schedule"]
