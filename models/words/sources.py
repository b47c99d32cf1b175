"""Where the figures of an answer come from, in one line each, for whoever doubts them."""

from __future__ import annotations

SOURCES: tuple[tuple[str, str], ...] = (
    (
        "Sun",
        "position by the NOAA formulas; rise and set at 0.833° under the horizon; refracted where it meets a wall",
    ),
    ("Clear sky", "direct and diffuse irradiance: Ineichen and Perez 2002; light from it: Perez and others 1990"),
    (
        "Low sun and dusk",
        "twilight curves of the Explanatory Supplement to the Astronomical Almanac, 1992",
    ),
    ("Cloud", "global light under N eighths: Kasten and Czeplak 1980"),
    ("Shape of the sky", "CIE general sky type 12 when clear, the traditional overcast sky when closed"),
    ("Street", "walls and ground as matt surfaces that light each other; no glass, gloss, signs or passers-by"),
    ("EV", "incident C = 250 lx s, reflected K = 12.5: so 0 EV at ISO 100 is 2.5 lx"),
    ("Guide number", "ISO 1230; the aperture scales with the root of ISO, power and number of flashes"),
    ("Doubt", "0.7 stop for a spot nobody metered, wider for guessed heights and broken cloud: our planning rule"),
)
