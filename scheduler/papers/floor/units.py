"""Quantities on paper in both systems, the shop's own first: a number read in the wrong one scorches or washes out."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.shop import METRIC
from scheduler.trade.belt import celsius
from scheduler.trade.mesh import threads_per_cm

INCHES_PER_FOOT = 12
CM_PER_INCH = 2.54
M_PER_INCH = 0.0254
CM3_PER_FL_OZ = 29.5735
"""US fluid ounce: 29.5735 ml (NIST Handbook 44, appendix C; memory)."""

FL_OZ_PER_QUART = 32
CM3_PER_LITRE = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    """Writes quantities; `first` is "US" or "metric", the other system stands in brackets."""

    first: str

    def temperature(self, fahrenheit: float) -> str:
        """As "320 °F (160 °C)"."""
        return self._both(f"{fahrenheit:.0f} °F", f"{celsius(fahrenheit):.0f} °C")

    def belt_speed(self, in_min: float) -> str:
        """As "8.0 ft/min (2.44 m/min)"."""
        return self._both(f"{in_min / INCHES_PER_FOOT:.1f} ft/min", f"{in_min * M_PER_INCH:.2f} m/min")

    def tunnel(self, inches: float) -> str:
        """A length of belt, as "8.0 ft (2.44 m)"."""
        return self._both(f"{inches / INCHES_PER_FOOT:.1f} ft", f"{inches * M_PER_INCH:.2f} m")

    def print_size(self, width_in: float, height_in: float) -> str:
        """As "12 x 14 in (30.5 x 35.6 cm)"."""
        return self._both(
            f"{width_in:g} x {height_in:g} in", f"{width_in * CM_PER_INCH:.1f} x {height_in * CM_PER_INCH:.1f} cm"
        )

    def mesh(self, per_in: int) -> str:
        """As "156/in (61/cm)"."""
        return self._both(f"{per_in}/in", f"{threads_per_cm(per_in):.0f}/cm")

    def ink(self, cm3: float) -> str:
        """As "1.4 qt (1.36 L)", "15.2 fl oz (450 ml)"."""
        ounces = cm3 / CM3_PER_FL_OZ
        us = f"{ounces:.1f} fl oz" if ounces < FL_OZ_PER_QUART else f"{ounces / FL_OZ_PER_QUART:.2f} qt"
        metric = f"{cm3:.0f} ml" if cm3 < CM3_PER_LITRE else f"{cm3 / CM3_PER_LITRE:.2f} L"
        return self._both(us, metric)

    def _both(self, us: str, metric: str) -> str:
        return f"{metric} ({us})" if self.first == METRIC else f"{us} ({metric})"
