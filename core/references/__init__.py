"""Every source that a docstring or a screen cites, by its key.

A docstring writes the key in square brackets; a test checks that it is here.
`seen` says how the compilers of these numbers met the source: "read" in a copy,
"second-hand" in a text that quotes it, "memory" where no copy was found.
"""

from core.references.land import LAND
from core.references.reference import Reference

REFERENCES: dict[str, Reference] = {
    **LAND,
    # sun, moon and light
    "spa2004": Reference(
        "Reda I., Andreas A.: Solar position algorithm for solar radiation applications. "
        "NREL/TP-560-34302 (2003, rev. 2008); Solar Energy 76:577 (2004). As in pvlib.spa.",
    ),
    "usno-definitions": Reference(
        "US Naval Observatory: Rise, set, and twilight definitions. Sunrise and sunset: upper "
        "limb, centre at zenith distance 90 deg 50'; civil twilight: centre 6 deg below.",
    ),
    "ineichen2002": Reference(
        "Ineichen P., Perez R.: A new airmass independent formulation for the Linke turbidity "
        "coefficient. Solar Energy 73:151 (2002). As in pvlib.clearsky.ineichen.",
        "second-hand",
        "pvlib's own documentation",
    ),
    "kasten1980": Reference(
        "Kasten F., Czeplak G.: Solar and terrestrial radiation dependent on the amount and "
        "type of cloud. Solar Energy 24:177-189 (1980), doi 10.1016/0038-092X(80)90391-6: "
        "G/G0 = 1 - 0.75 (N/8)^3.4, N in eighths.",
        "second-hand",
        "several open programs that use it",
    ),
    "meeus1998": Reference(
        "Meeus J.: Astronomical Algorithms, 2nd ed. (1998), chapters 25, 47 and 48.",
        "second-hand",
        "ports that cite its equations",
    ),
    # wind
    "epa2000": Reference(
        "US EPA: Meteorological monitoring guidance for regulatory modeling applications. "
        "EPA-454/R-99-005 (2000): 2.2 direction, 6.2.2 unit-vector mean, 6.4.2 SRDT (Table 6-7).",
        where="webmet.com/met_monitoring",
    ),
    "nws-beaufort": Reference(
        "National Weather Service, Tampa Bay: Beaufort wind scale with its signs on land.",
        where="weather.gov/tbw/beaufort",
    ),
    "wmo8": Reference(
        "WMO-No. 8: Guide to meteorological instruments, Part I chapter 5.", "second-hand"
    ),
    # stability and spread
    "pasquill1961": Reference(
        "Pasquill F.: The estimation of the dispersion of windborne material. Meteorol. Mag. "
        "90:33-49 (1961); the key as printed by NOAA Air Resources Laboratory, READY.",
        "second-hand",
        "ready.noaa.gov/READYpgclass.php",
    ),
    "briggs1973": Reference(
        "Briggs G.A.: Diffusion estimation for small emissions. ATDL Contribution 79 (1973); "
        "open country, as printed in Boubel et al., Fundamentals of Air Pollution, 3rd ed. "
        "(1994), Table 19-7.",
        "second-hand",
    ),
    "spicer1989": Reference(
        "Spicer T.O., Havens J.A.: User's guide for the DEGADIS 2.1 dense gas dispersion model. "
        "EPA-450/4-89-019 (1989), pp. 45-46: curves fitted to Pasquill and Gifford's; sideways "
        "ones for means of ten minutes.",
        "second-hand",
        "GasDispersion.jl, which cites it, with values in its tests",
    ),
    "boubel1994": Reference(
        "Boubel R.W., Fox D.L., Turner D.B., Stern A.C.: Fundamentals of air pollution, 3rd ed. "
        "(1994), chapter 19: tables 19-4 and 19-5 (Pasquill-Gifford), worked problem pp. 303-305.",
    ),
    "yellowbook1997": Reference(
        "Van den Bosch C.J.H., Weterings R.A.P.M. (eds.): Methods for the calculation of physical "
        "effects, CPR 14E (1997), chapter 4: upward spread goes with (10 z0)^(0.53 x^-0.22).",
        "memory",
    ),
    "barad1958": Reference(
        "Barad M.L. (ed.): Project Prairie Grass, a field program in diffusion. Geophysical "
        "Research Papers No. 59, Air Force Cambridge Research Center (1958).",
        "second-hand",
        "the arcs and the weather of each run, as a table",
    ),
    "changhanna2004": Reference(
        "Chang J.C., Hanna S.R.: Air quality model performance evaluation. Meteorol. Atmos. "
        "Phys. 87:167-196 (2004): FAC2, fractional bias, NMSE, geometric mean bias.",
        "memory",
    ),
    "hanna1983": Reference(
        "Hanna S.R.: Lateral turbulence intensity and plume meandering during stable "
        "conditions. J. Climate Appl. Meteor. 22:1424-1430 (1983): sigma-v typically 0.5 m/s.",
        "second-hand",
        "the AERMOD formulation text, EPA-454/R-03-004",
    ),
    "aermod": Reference(
        "US EPA: AERMOD, description of model formulation. EPA-454/R-03-004; subroutine MEANDR.",
    ),
    "isc3": Reference(
        "US EPA: User's guide for the Industrial Source Complex (ISC3) dispersion models, "
        "volume II. EPA-454/B-95-003b (1995): default wind profile exponents; initial vertical "
        "size of a release beside a structure = its height / 2.15.",
        "second-hand",
    ),
    "turner1970": Reference(
        "Turner D.B.: Workbook of atmospheric dispersion estimates. AP-26 (1970).", "memory"
    ),
    # wind among trees, slopes
    "albini1979": Reference(
        "Albini F.A., Baughman R.G.: Estimating windspeeds for predicting wildland fire "
        "behavior. USDA Forest Service INT-221 (1979): wind adjustment factors.",
        "second-hand",
    ),
    "andrews2012": Reference(
        "Andrews P.L.: Modeling wind adjustment factor and midflame wind speed for Rothermel's "
        "surface fire spread model. RMRS-GTR-266 (2012).",
        "second-hand",
    ),
    "schroeder1970": Reference(
        "Schroeder M.J., Buck C.C.: Fire weather. USDA Agriculture Handbook 360 (1970), ch. 7.",
        "second-hand",
    ),
    "pms437": Reference(
        "NWCG: Fire behavior field reference guide, PMS 437: estimating winds.",
    ),
    # formats
    "rfc5322": Reference(
        "Resnick P.: Internet message format. RFC 5322 (2008), section 4.3: the zone words.",
        "memory",
    ),
    "rfc5545": Reference(
        "Desruisseaux B.: Internet Calendaring and Scheduling Core Object Specification "
        "(iCalendar). RFC 5545 (2009).",
        "memory",
    ),
    "gdd8650": Reference(
        "Corn growing degree days by the 86/50 method: Karhoff S., Ohio State University "
        "Extension (2023), after the Ohio Agronomy Guide; Iowa State University, Agronomy 541, "
        "lesson 2b, rules 1 and 2.",
        "second-hand",
        "wfin.com/agnet/corn-growing-degree-days",
    ),
    "heldkarp1962": Reference(
        "Held M., Karp R.M.: Dynamic programming for sequencing. J. SIAM 10:196 (1962).", "memory"
    ),
    "sqlite-format": Reference(
        "SQLite: Database file format, sections 1.5, 1.6, 2.1 and 4. "
        "https://www.sqlite.org/fileformat2.html"
    ),
    "rfc7946": Reference("Butler H. et al.: The GeoJSON format. RFC 7946 (2016)."),
    "gpx11": Reference("Topografix: GPX 1.1 schema, namespace http://www.topografix.com/GPX/1/1."),
    "kml22": Reference("Open Geospatial Consortium: KML 2.2, OGC 07-147r2 (2008).", "memory"),
    "tzdata": Reference("IANA time zone database: zone1970.tab, a place for each zone."),
    "karney2013": Reference(
        "Karney C.F.F.: Algorithms for geodesics. J. Geodesy 87:43-55 (2013); geographiclib.",
        "memory",
    ),
    "wgs84": Reference("World Geodetic System 1984: a = 6378137 m, 1/f = 298.257223563.", "memory"),
    # the ground
    "mass-treestand": Reference(
        "Commonwealth of Massachusetts, MassWildlife: tree stand safety. Full-body harness always; "
        "stay at 16 ft and under.",
        where="mass.gov",
    ),
    "horn1981": Reference(
        "Horn B.K.P.: Hill shading and the reflectance map. Proc. IEEE 69:14-47 (1981): slope from "
        "the eight neighbors, weights 1-2-1.",
        "memory",
    ),
    # cold, cover, deer
    "nws2001": Reference(
        "National Weather Service and Meteorological Service of Canada: wind chill chart (2001).",
    ),
    "faa-coverage": Reference(
        "FAA AC 150/5300-13 change 17, appendix 1: wind coverage; Anytown, USA, 1995-2004.",
        "second-hand",
    ),
    "webb2010": Reference(
        "Webb S.L. et al.: Measuring fine-scale white-tailed deer movements and environmental "
        "influences using GPS collars. Int. J. Ecology 2010:459610.",
    ),
    "sullivan2018": Reference(
        "Sullivan J.D. et al.: Recognizing the danger zone: response of female white-tailed "
        "deer to discrete hunting events. Wildlife Biology, wlb.00455 (2018).",
    ),
    # counting what came true
    "brown2001": Reference(
        "Brown L. D., Cai T. T., DasGupta A.: Interval estimation for a binomial proportion. "
        "Statistical Science 16:101-133 (2001): the Jeffreys interval.",
        "memory",
    ),
    "mardia2000": Reference(
        "Mardia K. V., Jupp P. E.: Directional statistics. Wiley (2000), 2.2: mean direction.",
        "memory",
    ),
    "gelman2013": Reference(
        "Gelman A. et al.: Bayesian data analysis, 3rd ed. CRC Press (2013), 2.5 and 3.3: a "
        "normal mean with a normal prior, and a scaled inverse chi-square for the variance.",
        "memory",
    ),
    # how forecasts miss
    "harp2019": Reference(
        "MEPS and CMEPS forecasts against SYNOP reports, 17 to 19 February 2019, 812 stations "
        "of northern Europe: data package harphub/harpData (Apache-2.0; A. Singleton, MET "
        "Norway). The constants were fitted on it for this program.",
        "second-hand",
        "the program's own design notes",
    ),
}


def citation(key: str) -> str:
    """The text of a source.

    Args:
        key: as it stands in square brackets in a docstring.

    Returns: the citation, with a word where it is not from a copy that was read.
    Raises: KeyError for a key that is not in the table.
    """
    reference = REFERENCES[key]
    notes = {
        "second-hand": f"as quoted by {reference.where}" if reference.where else "second-hand",
        "memory": "from memory",
    }
    note = notes.get(reference.seen, "")
    return f"{reference.text} ({note})" if note else reference.text
