"""The caution that stands on everything linecalc prints."""

CAUTION = (
    "Calculation aid only. The local code as adopted, the authority having jurisdiction (AHJ), "
    "the listed instructions of the equipment and a licensed electrician decide."
)
