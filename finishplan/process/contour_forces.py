"""Relations of the cut along a contour that no handbook names: peak force, stress, path error."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.process.chip_law import ChipLaw


@formula(
    "a_p = t/N",
    units={"thickness": "m", "layers": "1"},
    returns="m",
    source="equal layers over the thickness",
)
def layer_depth(thickness: Array, layers: Array) -> Array:
    """Axial depth of one layer.

    Parameters
    ----------
    thickness : array_like
        Thickness of the part t [m].
    layers : array_like
        Layers N [1].

    Returns
    -------
    array_like
        Axial depth a_p [m].
    """
    return thickness / layers


@formula(
    "A = a_p a_e",
    units={"axial_depth": "m", "radial_depth": "m"},
    returns="m^2",
    source="rectangle square to the path",
)
def cut_section(axial_depth: Array, radial_depth: Array) -> Array:
    """Section that the cutter takes out, square to its path.

    Parameters
    ----------
    axial_depth : array_like
        Depth along the cutter's axis a_p [m].
    radial_depth : array_like
        Depth into the side of the material a_e [m].

    Returns
    -------
    array_like
        Section A [m2].
    """
    return axial_depth * radial_depth


@formula(
    "F_peak = kc(h_max) a_p h_max max(s, z_E)",
    units={"peak_specific_force": "Pa", "axial_depth": "m", "max_chip": "m", "teeth_in_cut": "1", "width_share": "1"},
    returns="N",
    source="force per width of one straight tooth at its thickest chip, on one tooth or all in the cut at once",
)
def peak_force(
    peak_specific_force: Array, axial_depth: Array, max_chip: Array, teeth_in_cut: Array, width_share: Array
) -> Array:
    """Highest tangential force during a turn, an upper bound.

    Parameters
    ----------
    peak_specific_force : array_like
        Specific cutting force kc at the thickest chip [Pa].
    axial_depth : array_like
        Axial depth a_p [m].
    max_chip : array_like
        Thickest chip h_max [m].
    teeth_in_cut : array_like
        Mean number of teeth in the cut z_E, each over the whole depth [1].
    width_share : array_like
        Share of the depth that one tooth covers s, 1 for plain teeth [1].

    Returns
    -------
    array_like
        Force F_peak [N].
    """
    return peak_specific_force * axial_depth * max_chip * np.maximum(teeth_in_cut, width_share)


@formula(
    "F = F_t sqrt(1 + r_n^2)",
    units={"tangential_force": "N", "force_ratio": "1"},
    returns="N",
    source="tangential and normal force are square to each other",
)
def resultant_force(tangential_force: Array, force_ratio: Array) -> Array:
    """Tangential and normal force together.

    Parameters
    ----------
    tangential_force : array_like
        Tangential force F_t [N].
    force_ratio : array_like
        Normal over tangential force r_n [1].

    Returns
    -------
    array_like
        Resultant F [N].
    """
    return tangential_force * np.hypot(1.0, force_ratio)


@formula(
    "l = max(L - a_p/2, L/2)",
    units={"overhang": "m", "axial_depth": "m"},
    returns="m",
    source="the force acts in the middle of the layer; a layer deeper than the tool is long is beyond its limit anyway",
)
def force_lever(overhang: Array, axial_depth: Array) -> Array:
    """Distance from the cutting force to the tool holder.

    Parameters
    ----------
    overhang : array_like
        Length of the tool out of its holder L [m].
    axial_depth : array_like
        Axial depth a_p [m].

    Returns
    -------
    array_like
        Lever l [m].
    """
    return np.maximum(overhang - axial_depth / 2, overhang / 2)


@formula(
    "d = |F_w|/k",
    units={"wall_force": "N", "stiffness": "N/m"},
    returns="m",
    source="statics: the mean force of a turn bends what holds the cutter; either side counts",
)
def wall_deflection(wall_force: Array, stiffness: Array) -> Array:
    """How far the mean force moves the cutter off its path, square to the wall.

    Parameters
    ----------
    wall_force : array_like
        Mean force square to the wall F_w, of either sign [N].
    stiffness : array_like
        Stiffness k [N/m].

    Returns
    -------
    array_like
        Deflection d [m].
    """
    return np.abs(wall_force) / stiffness


@formula(
    "e = d + e_p",
    units={"deflection": "m", "position_error": "m"},
    returns="m",
    source="the deflection has one sign all along, the position errors any: added at worst",
)
def path_error(deflection: Array, position_error: Array) -> Array:
    """How far the cut edge may lie from where it is wanted.

    Parameters
    ----------
    deflection : array_like
        Deflection of arm and tool d [m].
    position_error : array_like
        Position errors, combined statistically e_p [m].

    Returns
    -------
    array_like
        Error e [m].
    """
    return deflection + position_error


@formula(
    "f_t = n z",
    units={"spindle_speed": "1/s", "teeth": "1"},
    returns="1/s",
    source="kinematics of a turning cutter",
)
def tooth_frequency(spindle_speed: Array, teeth: Array) -> Array:
    """How often a tooth passes.

    Parameters
    ----------
    spindle_speed : array_like
        Spindle speed n [1/s].
    teeth : array_like
        Number of teeth z [1].

    Returns
    -------
    array_like
        Frequency f_t [1/s].
    """
    return spindle_speed * teeth


@formula(
    "Kt = kc (1 + d ln kc/d ln h)",
    units={"chip_law": "-", "chip_thickness": "m", "specific_force": "Pa"},
    returns="Pa",
    source="slope of the chip law at the mean chip",
)
def chip_rise(chip_law: ChipLaw, chip_thickness: Array, specific_force: Array) -> Array:
    """Rise of the tangential force with the chip thickness, per width: what drives regenerative chatter.

    Parameters
    ----------
    chip_law : PowerLaw or AffineLaw
        Specific cutting force over chip thickness [-].
    chip_thickness : array_like
        Mean chip thickness h [m].
    specific_force : array_like
        Specific cutting force kc at that thickness [Pa].

    Returns
    -------
    array_like
        Kt [Pa].
    """
    return specific_force * (1 + chip_law.log_slope(chip_thickness, specific_force))


@formula(
    "Ks = Kt sqrt(1 + r_n^2)",
    units={"chip_rise": "Pa", "force_ratio": "1"},
    returns="Pa",
    source="tangential and normal force are square to each other",
)
def dynamic_force(chip_rise: Array, force_ratio: Array) -> Array:
    """Rise of tangential and normal force together with the chip thickness, per width.

    Parameters
    ----------
    chip_rise : array_like
        Rise of the tangential force Kt [Pa].
    force_ratio : array_like
        Normal over tangential force r_n [1].

    Returns
    -------
    array_like
        Ks [Pa].
    """
    return chip_rise * np.hypot(1.0, force_ratio)


@formula(
    "b = max(b_any, b_here)",
    units={"at_any_speed": "m", "at_this_speed": "m"},
    returns="m",
    source="both are lower bounds of the depth at which chatter begins",
)
def deeper_of(at_any_speed: Array, at_this_speed: Array) -> Array:
    """The wider of two depths that are both free of chatter.

    Parameters
    ----------
    at_any_speed : array_like
        Depth that holds at every spindle speed [m].
    at_this_speed : array_like
        Depth that holds at the spindle speed in question [m].

    Returns
    -------
    array_like
        Depth b [m].
    """
    return np.maximum(at_any_speed, at_this_speed)
