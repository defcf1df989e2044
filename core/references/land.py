"""Sources of the land: heights, their files and services, and the air over them."""

from core.references.reference import Reference

LAND: dict[str, Reference] = {
    "barnes2014": Reference(
        "Barnes R., Lehman C., Mulla D.: Priority-flood: an optimal depression-filling and "
        "watershed-labeling algorithm. Computers & Geosciences 62:117-127 (2014).",
        "memory",
    ),
    "horst1986": Reference(
        "Horst T.W., Doran J.C.: Nocturnal drainage flow on simple slopes. Boundary-Layer "
        "Meteorol. 34:263-286 (1986): as deep as 0.05 of its drop.",
        "second-hand",
        "the program's own design notes",
    ),
    "lundquist2008": Reference(
        "Lundquist J.D., Pepin N., Rochford C.: Automated algorithm for mapping regions of "
        "cold-air pooling in complex terrain. J. Geophys. Res. 113, D22107 (2008): low in its "
        "surroundings, gentle, and concave.",
    ),
    "finnigan2020": Reference(
        "Finnigan J. et al.: Boundary-layer flow over complex topography. Boundary-Layer "
        "Meteorol. 177:247-313 (2020): separation above some 15 degrees.",
        "second-hand",
    ),
    "ambaum2005": Reference(
        "Ambaum M.H.P., Marshall D.P.: The effects of stratification on flow separation. "
        "J. Atmos. Sci. 62:2618-2625 (2005): strong layering delays or suppresses it.",
    ),
    "chan1997": Reference(
        "Chan S.T., Sugiyama G.: User's manual for MC_WIND, a mass-consistent wind model "
        "(1997): the stability ratio by a Strouhal number.",
        "second-hand",
        "a public-domain code of wildland fire winds",
    ),
    "sherman1978": Reference(
        "Sherman C.A.: A mass-consistent model for wind fields over complex terrain. "
        "J. Appl. Meteorol. 17:312-319 (1978).",
        "memory",
    ),
    "ross1988": Reference(
        "Ross D.G., Smith I.N., Manins P.C., Fox D.G.: Diagnostic wind field modeling for "
        "complex terrain. J. Appl. Meteorol. 27:785-796 (1988): the least change is potential "
        "flow, stability the ratio of level to upright change.",
    ),
    "hunt1988": Reference(
        "Hunt J.C.R., Leibovich S., Richards K.J.: Turbulent shear flows over low hills. "
        "Q. J. R. Meteorol. Soc. 114:1435-1470 (1988): the middle layer.",
        "memory",
    ),
    "taylor1984": Reference(
        "Taylor P.A., Lee R.J.: Simple guidelines for estimating wind speed variations due to "
        "small scale topographic features. Climatol. Bull. 18:3-32 (1984): speed-up at a hilltop "
        "is about twice potential flow.",
    ),
    "emeis": Reference(
        "Emeis S.: Wind energy meteorology, section 4: potential flow over ridges.",
    ),
    "snyder1987": Reference(
        "Snyder J.P.: Map projections, a working manual. USGS Professional Paper 1395 (1987); "
        "UTM zones, and the series of Krueger (1912) to the fourth order.",
        "memory",
    ),
    "tiff6": Reference("Aldus: TIFF, revision 6.0 (1992).", "memory"),
    "geotiff11": Reference(
        "Open Geospatial Consortium: GeoTIFF standard 1.1, OGC 19-008r4 (2019).", "memory"
    ),
    "usgs-3dep": Reference(
        "U.S. Geological Survey: 3D Elevation Program, 1/3 arc-second heights of the bare ground.",
        "second-hand",
        "public programs that read its tiles",
    ),
    "copernicus-dem": Reference(
        "Copernicus DEM GLO-30 Public: readme of the open bucket copernicus-dem-30m (a surface).",
    ),
    "esri-ascii": Reference(
        "Esri: ASCII raster format (ncols, nrows, xllcorner or xllcenter, yllcorner or "
        "yllcenter, cellsize, nodata_value; rows from the north).",
        "memory",
    ),
}
