"""How colours are seen: contrast, lightness, and by people who lack one of the three kinds of cones.

Contrast and relative luminance: WCAG 2.2, "contrast ratio" and "relative luminance". Colour blindness: Machado,
Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency", 2009, matrices for
full severity (memory). Distance: CIE 1976 L*a*b*, D65 white.
"""

from __future__ import annotations

import numpy as np

SIGHTS = {
    "all cones": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
_TO_XYZ = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)
_WHITE = _TO_XYZ @ np.ones(3)


def linear(colour: str) -> np.ndarray:
    """A "#RRGGBB" as light: red, green, blue from 0 to 1."""
    coded = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """WCAG contrast ratio, 1 to 21."""
    darker, lighter = sorted(float(np.array([0.2126, 0.7152, 0.0722]) @ linear(colour)) for colour in (one, other))
    return (lighter + 0.05) / (darker + 0.05)


def lab(colour: str, sight: str = "all cones") -> np.ndarray:
    """CIE L*a*b* of a colour as it is seen."""
    seen = np.clip(SIGHTS[sight] @ linear(colour), 0, 1)
    share = (_TO_XYZ @ seen) / _WHITE
    bent = np.where(share > 216 / 24389, np.cbrt(share), (24389 / 27 * share + 16) / 116)
    return np.array([116 * bent[1] - 16, 500 * (bent[0] - bent[1]), 200 * (bent[1] - bent[2])])


def distance(one: str, other: str, sight: str) -> float:
    """CIE 1976 colour difference as it is seen."""
    return float(np.linalg.norm(lab(one, sight) - lab(other, sight)))


def lightness(colour: str) -> float:
    """L*, what is left of a colour in grey."""
    return float(lab(colour)[0])
