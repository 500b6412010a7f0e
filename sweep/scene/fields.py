"""The kinds of value in a scene: each with the range in which it makes sense, and the reason of the range.

A range keeps out slips of the pen and figures with which no arithmetic can be done; whether a figure is wise is told by
flags, not here.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field

from sweep.scene.written import HeightWritten, Quantity, StopsWritten, TurnWritten
from sweep.units import ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME
from sweep.words import fit

# lengths of wood
StockLength = Annotated[float, Quantity(LENGTH, "10 mm", "20 m", "shorter cannot be held, longer is not sold")]
StockSize = Annotated[float, Quantity(LENGTH, "1 mm", "2 m", "thinner than veneer, wider than any saw takes")]
SpareLength = Annotated[float, Quantity(LENGTH, "150 mm", "20 m", "a shorter block does not lie steady on the fence")]
BoardLength = Annotated[float, Quantity(LENGTH, "100 mm", "20 m", "as boards are sold")]
TrimLength = Annotated[float, Quantity(LENGTH, "0 mm", "1 m", "more is no trimming")]
PanelWidth = Annotated[float, Quantity(LENGTH, "10 mm", "10 m", "from a door's panel to a floor")]
Detail = Annotated[float, Quantity(LENGTH, "0.05 mm", "500 mm", "less cannot be seen, more is no part of a moulding")]
Bound = Annotated[float, Quantity(LENGTH, "0 mm", "2 m", "0 leaves it out")]
LongBound = Annotated[float, Quantity(LENGTH, "0 mm", "20 m", "0 leaves it out")]

# blade and saw
BladeSize = Annotated[float, Quantity(LENGTH, "20 mm", "1 m", "from small cutters to the largest circular saws")]
Thickness = Annotated[float, Quantity(LENGTH, "0.1 mm", "200 mm", "from slitting saws to moulding heads")]
RunOut = Annotated[float, Quantity(LENGTH, "0 mm", "1 mm", "with more a blade is not fit to be used")]
Turning = Annotated[float, Quantity(ROTATION, "10 rpm", "60000 rpm", "from turning by hand to the fastest spindles")]
Watts = Annotated[float, Quantity(POWER, "0.01 kW", "100 kW", "from toys to sawmills")]
Height = Annotated[float, Quantity(LENGTH, "0.01 mm", "500 mm", "finer than any saw is set, higher than any blade")]
HeightOrThrough = Annotated[float | None, HeightWritten()]
SawSize = Annotated[float, Quantity(LENGTH, "1 mm", "10 m", "from throat plates to sliding tables")]
Reach = Annotated[float, Quantity(LENGTH, "0 mm", "20 m", "0 where there is nothing")]
Plate = Annotated[float, Quantity(LENGTH, "0 mm", "200 mm", "0 where there is none")]
Lift = Annotated[float, Quantity(LENGTH, "0.01 mm", "100 mm", "from the finest screws to levers")]

# how they are set
FenceAngle = Annotated[
    float, Quantity(ANGLE, "0.1 deg", "90 deg", "along the blade there is no cove; past 90 it is turned")
]
Tilt = Annotated[float, Quantity(ANGLE, "-45 deg", "45 deg", "as far as table saws tilt")]
Bevel = Annotated[float, Quantity(ANGLE, "0.1 deg", "45 deg", "steeper tips are points")]
Spring = Annotated[float, Quantity(ANGLE, "5 deg", "85 deg", "beyond, one flat takes the whole back")]
Place = Annotated[float, Quantity(LENGTH, "-2 m", "2 m", "as far as stock is wide")]
Feed = Annotated[float, Quantity(SPEED, "0.01 m/min", "120 m/min", "slower burns, faster than any machine feeds")]
RimSpeed = Annotated[float, Quantity(SPEED, "1 m/s", "1000 m/s", "beyond the speed of any saw")]

# how exactly, and how much
Exact = Annotated[float, Quantity(LENGTH, "0.0001 mm", "100 mm", "finer than any gauge in a workshop")]
ExactAngle = Annotated[float, Quantity(ANGLE, "0.0001 deg", "10 deg", "finer than any gauge in a workshop")]
Area = Annotated[float, Quantity(AREA, "0.01 mm2", "10000 cm2", "from one shaving to a whole beam")]
Push = Annotated[float, Quantity(FORCE, "0.1 N", "10000 N", "beyond what hands or feeders push")]
Seconds = Annotated[float, Quantity(TIME, "0 s", "8 h", "a working day")]
Moisture = Annotated[float, Quantity(SHARE, "0 %", "200 %", "from oven-dry to green wood")]
PanelMoisture = Annotated[float, Quantity(SHARE, "0 %", "30 %", "above it wood no longer swells")]
Density = Annotated[float, Quantity(DENSITY, "80 kg/m3", "1500 kg/m3", "no wood is lighter or heavier")]
Paper = Annotated[float, Quantity(LENGTH, "0 mm", "10 mm", "thicker than any paper or pad")]

Share = Annotated[float, Field(strict=True, ge=0.01, le=1, allow_inf_nan=False)]
Number = Annotated[float, Field(strict=True, ge=-2_000, le=2_000, allow_inf_nan=False)]
Stops = Annotated[tuple[float | None, ...], Field(min_length=1, max_length=500), StopsWritten()]
Turn = Annotated[float, TurnWritten()]

# words
Title = Annotated[str, Field(max_length=200), AfterValidator(fit)]
Name = Annotated[str, Field(max_length=80), AfterValidator(fit)]
FileName = Annotated[str, Field(max_length=400), AfterValidator(fit)]
