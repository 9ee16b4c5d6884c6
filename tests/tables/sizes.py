"""Areas of conductor sizes from the gauge's own definition, for ordering in tests."""


def area_cmil(size: str) -> float:
    """Return the area of "14 AWG", "1/0 AWG" or "250 kcmil" in circular mils.

    References
    ----------
    ASTM B258: the diameter of gauge n is 5 mil times 92 to the power (36 - n)/39.
    """
    number, unit = size.split(" ")
    if unit == "kcmil":
        return float(number) * 1000.0
    gauge = 1 - int(number[0]) if number.endswith("/0") else int(number)
    return (5.0 * 92.0 ** ((36 - gauge) / 39.0)) ** 2
