"""PV strings: currents, cold and hot voltage, input limits, array power."""

from __future__ import annotations

from linecalc.term import Number, named

STC_C = 25.0
IRRADIANCE_FACTOR = 1.25


def source_current(isc_a: Number, strings: Number) -> Number:
    """Maximum current of ``strings`` equal strings in parallel, in amperes.

    Parameters
    ----------
    isc_a : module short-circuit current at STC in amperes. strings : number in parallel.

    References
    ----------
    `pv_source_current` 690.8(A)(1)(a)(1), 690.8(A)(1) in 2017.

    Examples
    --------
    >>> source_current(13.0, 2)
    32.5
    """
    current = IRRADIANCE_FACTOR * strings * isc_a
    return named(current, "I_max", "A", "maximum PV circuit current", "pv_source_current")


def cold_voltage(voc_v: Number, count: Number, coefficient_percent_per_k: Number, low_c: Number) -> Number:
    """Open-circuit voltage of a string at the lowest ambient, in volts.

    Parameters
    ----------
    voc_v : module Voc at STC in volts. count : modules in series.
    coefficient_percent_per_k : Voc coefficient in %/K, negative. low_c : lowest ambient in degC.

    References
    ----------
    `pv_max_voltage` 690.7(A)(1).

    Examples
    --------
    >>> cold_voltage(40.0, 10, -0.25, -25.0)
    450.0
    """
    voltage = count * voc_v * (1.0 + coefficient_percent_per_k / 100.0 * (low_c - STC_C))
    return named(voltage, "V_oc_cold", "V", "string voltage at the lowest ambient", "pv_max_voltage")


def cold_voltage_by_volts(voc_v: Number, count: Number, coefficient_v_per_k: Number, low_c: Number) -> Number:
    """Open-circuit voltage of a string at the lowest ambient, in volts, from a coefficient in V/K.

    Parameters
    ----------
    voc_v : module Voc at STC in volts. count : modules in series.
    coefficient_v_per_k : Voc coefficient of one module in V/K, negative. low_c : lowest ambient in degC.

    References
    ----------
    `pv_max_voltage` 690.7(A)(1).

    Examples
    --------
    >>> cold_voltage_by_volts(40.0, 10, -0.125, -15.0)
    450.0
    """
    voltage = count * (voc_v + coefficient_v_per_k * (low_c - STC_C))
    return named(voltage, "V_oc_cold", "V", "string voltage at the lowest ambient", "pv_max_voltage")


def cold_voltage_by_table(voc_v: Number, count: Number, factor: Number) -> Number:
    """Open-circuit voltage of a crystalline-silicon string by the table factor, in volts.

    Parameters
    ----------
    voc_v : module Voc at STC in volts. count : modules in series. factor : plain number.

    References
    ----------
    `pv_voltage_table` Table 690.7(A).

    Examples
    --------
    >>> cold_voltage_by_table(40.0, 10, 1.25)
    500.0
    """
    voltage = count * voc_v * factor
    return named(voltage, "V_oc_table", "V", "string voltage by the table of cold factors", "pv_voltage_table")


def relative_coefficient(coefficient_v_per_k: Number, voltage_v: Number) -> Number:
    """A temperature coefficient in V/K as percent of a voltage per kelvin, in %/K.

    Parameters
    ----------
    coefficient_v_per_k : V/K, signed. voltage_v : the STC voltage it belongs to in volts.

    Examples
    --------
    >>> relative_coefficient(-0.125, 40.0)
    -0.3125
    """
    coefficient = 100.0 * coefficient_v_per_k / voltage_v
    return named(coefficient, "beta_rel", "percent/K", "temperature coefficient as a share of the voltage")


def cell_temperature_hot(high_c: Number, rise_k: Number) -> Number:
    """Cell temperature in the hot season from a rise by mounting, in degC.

    Parameters
    ----------
    high_c : high design ambient in degC. rise_k : rise over ambient in K (35 close to a roof,
        30 on a rack, 25 on the ground: common practice, no source).

    Examples
    --------
    >>> cell_temperature_hot(36.0, 35.0)
    71.0
    """
    return named(high_c + rise_k, "T_cell", "degC", "cell temperature in the hot season (common practice)")


def cell_temperature_by_noct(high_c: Number, noct_c: Number) -> Number:
    """Cell temperature in the hot season at 1000 W/m2 from the module's NOCT, in degC.

    Parameters
    ----------
    high_c : high design ambient in degC. noct_c : nominal operating cell temperature in degC,
        stated at 20 degC and 800 W/m2.

    Examples
    --------
    >>> cell_temperature_by_noct(36.0, 44.0)
    66.0
    """
    temperature = high_c + (noct_c - 20.0) * 1000.0 / 800.0
    return named(temperature, "T_cell", "degC", "cell temperature in the hot season, by NOCT")


def hot_voltage(vmp_v: Number, count: Number, coefficient_percent_per_k: Number, cell_c: Number) -> Number:
    """Working voltage of a string at its hot cell temperature, in volts.

    Parameters
    ----------
    vmp_v : module Vmp at STC in volts. count : modules in series.
    coefficient_percent_per_k : Vmp coefficient, else that of Pmax, in %/K; never that of Voc.
    cell_c : cell temperature in degC.

    Examples
    --------
    >>> hot_voltage(32.0, 10, -0.375, 65.0)
    272.0
    """
    voltage = count * vmp_v * (1.0 + coefficient_percent_per_k / 100.0 * (cell_c - STC_C))
    return named(voltage, "V_mp_hot", "V", "working voltage of the string in the hot season")


def cold_working_voltage(vmp_v: Number, count: Number, coefficient_percent_per_k: Number, low_c: Number) -> Number:
    """Working voltage of a string at the lowest ambient, in volts.

    Parameters
    ----------
    As `hot_voltage`; low_c : lowest ambient in degC, taken as the cell temperature.

    Examples
    --------
    >>> cold_working_voltage(32.0, 10, -0.375, -15.0)
    368.0
    """
    voltage = count * vmp_v * (1.0 + coefficient_percent_per_k / 100.0 * (low_c - STC_C))
    return named(voltage, "V_mp_cold", "V", "working voltage of the string at the lowest ambient")


def input_short_circuit(isc_a: Number, strings: Number) -> Number:
    """Short-circuit current at STC of the strings on one input, in amperes.

    Parameters
    ----------
    isc_a : module Isc at STC in amperes. strings : strings in parallel on the input.

    Examples
    --------
    >>> input_short_circuit(13.0, 2)
    26.0
    """
    return named(strings * isc_a, "I_sc_in", "A", "short-circuit current on the input at STC")


def input_short_circuit_raised(isc_a: Number, strings: Number) -> Number:
    """Short-circuit current on one input under bright sky, 1.25 times that at STC, in amperes.

    Parameters
    ----------
    As `input_short_circuit`.

    References
    ----------
    `pv_source_current` 690.8(A)(1)(a)(1), 690.8(A)(1) in 2017, for the factor.

    Examples
    --------
    >>> input_short_circuit_raised(13.0, 2)
    32.5
    """
    current = IRRADIANCE_FACTOR * strings * isc_a
    return named(current, "I_sc_in_max", "A", "short-circuit current on the input, raised", "pv_source_current")


def input_working_current(imp_a: Number, strings: Number) -> Number:
    """Working current at STC of the strings on one input, in amperes.

    Parameters
    ----------
    imp_a : module Imp at STC in amperes. strings : strings in parallel on the input.

    Examples
    --------
    >>> input_working_current(12.5, 2)
    25.0
    """
    return named(strings * imp_a, "I_mp_in", "A", "working current on the input at STC")


def working_voltage(vmp_v: Number, count: Number) -> Number:
    """Working voltage of a string at STC, in volts.

    Parameters
    ----------
    vmp_v : module Vmp in volts. count : modules in series.

    Examples
    --------
    >>> working_voltage(33.0, 10)
    330.0
    """
    return named(count * vmp_v, "V_base", "V", "string working voltage at STC")


def string_working_current(power_w: Number, voltage_v: Number) -> Number:
    """Current of a string that works at a voltage kept by its inverter, in amperes.

    Parameters
    ----------
    power_w : string power in watts. voltage_v : working voltage in volts.

    References
    ----------
    `mppt_limit`: the limits are those of the datasheet.

    Examples
    --------
    >>> string_working_current(4000.0, 400.0)
    10.0
    """
    return named(power_w / voltage_v, "I_string", "A", "string power at its working voltage", "mppt_limit")


def string_protection_current(strings: Number, isc_a: Number, backfeed_a: Number) -> Number:
    """Current that the other strings and the unit can push into one faulted string, in amperes.

    Parameters
    ----------
    strings : strings in parallel. isc_a : module Isc at STC in amperes.
    backfeed_a : what the unit feeds back into its input, in amperes.

    References
    ----------
    `pv_ocpd_not_required` 690.9(A)(1), 690.9(A) Exception in 2017.

    Examples
    --------
    >>> string_protection_current(3, 12.0, 1.0)
    31.0
    """
    current = (strings - 1.0) * IRRADIANCE_FACTOR * isc_a + backfeed_a
    return named(current, "I_rev", "A", "current into one faulted string", "pv_ocpd_not_required")


def array_power(count: Number, power_w: Number) -> Number:
    """DC power at STC of equal modules, in watts.

    Parameters
    ----------
    count : modules. power_w : of one module at STC in watts.

    Examples
    --------
    >>> array_power(22, 420.0)
    9240.0
    """
    return named(count * power_w, "P_array", "W", "array power at STC")


def usable_array_power(ac_w: Number, charge_w: Number) -> Number:
    """Array power that a unit can use while its storage has room, in watts.

    Parameters
    ----------
    ac_w : continuous AC rating in watts. charge_w : DC charge rate of its storage in watts.

    Notes
    -----
    Common practice, no source.

    Examples
    --------
    >>> usable_array_power(9600.0, 4200.0)
    13800.0
    """
    return named(ac_w + charge_w, "P_use", "W", "array power usable while the storage has room (common practice)")


def converter_current(output_a: Number, strings: Number) -> Number:
    """Current of strings of dc-to-dc converters: their rated output, no irradiance factor, in amperes.

    Parameters
    ----------
    output_a : rated output current of one converter in amperes. strings : strings in parallel.

    References
    ----------
    `dc_dc_converter_current` 690.8(A)(1)(b), 690.8(A)(1)(c) and (d) in 2020, 690.8(A)(5) and (6) in 2017.

    Examples
    --------
    >>> converter_current(15.0, 2.0)
    30.0
    """
    return named(strings * output_a, "I_max", "A", "rated output current of the converters", "dc_dc_converter_current")


def converter_voltage(output_v: Number, count: Number) -> Number:
    """Voltage of converters in series where their instructions state no maximum, in volts.

    Parameters
    ----------
    output_v : largest output voltage of one converter in volts. count : converters in series.

    References
    ----------
    `pv_dc_dc_voltage` 690.7(B)(2).

    Examples
    --------
    >>> converter_voltage(60.0, 9.0)
    540.0
    """
    return named(count * output_v, "V_dc_dc", "V", "largest output voltages of the converters in series", "pv_dc_dc_voltage")
