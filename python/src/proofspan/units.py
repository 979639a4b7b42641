"""Units as quantities: ``45 * ft``, ``76 * psf``, ``4000 * ksi * (16200 * inch**4)``.

Factors are exact where they are exact by definition. ``ksi``, ``psi``, ``MPa`` and their like are
open between stress and fluid pressure: the argument they go into decides.

A degree is no unit to multiply with: ``Quantity("20 °C", "Temperature")`` is a temperature,
``Quantity("20 °C", "TemperatureChange")`` a change, and the difference of two temperatures is one.
"""

from ._core import Quantity as _Quantity

m = _Quantity("1 m")
mm = _Quantity("1 mm")
cm = _Quantity("1 cm")
km = _Quantity("1 km")
ft = _Quantity("1 ft")
inch = _Quantity("1 in")
yd = _Quantity("1 yd")

N = _Quantity("1 N", "Force")
kN = _Quantity("1 kN", "Force")
MN = _Quantity("1 MN", "Force")
lbf = _Quantity("1 lbf", "Force")
kip = _Quantity("1 kip", "Force")
kgf = _Quantity("1 kgf", "Force")
tf = _Quantity("1 tf", "Force")

plf = _Quantity("1 plf")
klf = _Quantity("1 klf")
psf = _Quantity("1 psf")
ksf = _Quantity("1 ksf")
pcf = _Quantity("1 pcf")

Pa = _Quantity("1 Pa")
kPa = _Quantity("1 kPa")
MPa = _Quantity("1 MPa")
GPa = _Quantity("1 GPa", "Stress")
bar = _Quantity("1 bar")
psi = _Quantity("1 psi")
ksi = _Quantity("1 ksi")

kg = _Quantity("1 kg")
tonne = _Quantity("1 t")
lb = _Quantity("1 lb")

s = _Quantity("1 s")
minute = _Quantity("1 min")
hour = _Quantity("1 h")
day = _Quantity("1 d")

rad = _Quantity("1 rad")
mrad = _Quantity("1 mrad")
deg = _Quantity("1 deg")
percent = _Quantity("1 %")

__all__ = [
    "GPa",
    "MN",
    "MPa",
    "N",
    "Pa",
    "bar",
    "cm",
    "day",
    "deg",
    "ft",
    "hour",
    "inch",
    "kN",
    "kPa",
    "kg",
    "kgf",
    "kip",
    "klf",
    "km",
    "ksf",
    "ksi",
    "lb",
    "lbf",
    "m",
    "minute",
    "mm",
    "mrad",
    "pcf",
    "percent",
    "plf",
    "psf",
    "psi",
    "rad",
    "s",
    "tf",
    "tonne",
    "yd",
]
