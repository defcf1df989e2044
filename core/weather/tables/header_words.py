"""The words that headers of weather tables use, and what each stands for."""


def _words(text: str) -> list[str]:
    return text.split()


# words of columns that are about wind, time or weather, and are not what is needed
NOT_WANTED = frozenset(
    _words("""
    chill std stdev stddev sd sigma deviation variance shear power density cross crosswind
    headwind tailwind minimum count flag qc qcf quality source src uncertainty uncert
    apparent index lull sunrise sunset trend feel feels wave swell current attributes
    measurement run
    """)
)
# of winds that are not the wind of the row
NOT_OF_WIND = frozenset(
    _words("""
    change changes diff difference delta error err anomaly anom minus bias vertical updraft
    log percentile quantile yesterday climatological climatology normal squared residual
    ratio rank limit threshold warning advisory probability prob chance alarm
    """)
)
# of times that are not those of the rows: when a model ran, a file was made or sent
OTHER_TIMES = frozenset(
    _words("""
    run issued init updated update received created fetched generated reference ref cycle
    analysis base model last sent made lead leadtime step ahead horizon elapsed duration
    uptime built build fhr fxx tau runtime reftime basetime inittime issuetime forecasthour
    fcsthour
    """)
)
OTHER_STEMS = tuple(
    _words("""
    issu initi publi releas retriev download export request upload ingest insert modif
    transmit process
    """)
)
GUST = tuple(
    _words("""
    gust windgust wgust wgst gst wndgst boe spitzenboe rafale
    """)
)
DIRECTION = frozenset(
    _words("""
    dir direction directions drct wdir winddir winddirection wd wnddir bearing richtung
    windrichtung windr drxn dird wdird
    """)
)
SPEED = frozenset(
    _words("""
    speed spd wspd windspeed windspd wndspd ws wsp wsd sknt velocity vel windgeschwindigkeit
    geschwindigkeit ff sped wspeed
    """)
)
ACROSS = {
    **dict.fromkeys(("u", "zonal", "eastward"), "u"),
    **dict.fromkeys(("v", "meridional", "northward"), "v"),
}
WIND = frozenset(("wind", "winds", "wnd"))
DATE_WORDS = frozenset(
    _words("""
    date datum day dato fecha yyyymmdd
    """)
)
CLOCK_WORDS = frozenset(
    _words("""
    time zeit uhrzeit clock hour hr hhmm hora tid heure he hb endtime
    """)
)
STAMP_WORDS = frozenset(
    _words("""
    datetime timestamp valid validtime observed epoch unix unixtime dt when starttime
    timeutc utc zulu gmt isotime obstime dateutc localtime obsdate datehour stamp start
    until period interval end ending begin beginning
    """)
)
PARTS = {
    **dict.fromkeys(_words("year yr yyyy jahr"), "year"),
    **dict.fromkeys(_words("month mon mo monat"), "month"),
    **dict.fromkeys(_words("day dd tag"), "day"),
    **dict.fromkeys(_words("hour hr hh stunde"), "hour"),
    **dict.fromkeys(_words("minute min minutes"), "minute"),
}
WHOLE_NAMES = {
    **dict.fromkeys(_words("unit units windunit windunits speedunit"), "unit"),
    **dict.fromkeys(_words("speedunits windspeedunit windspeedunits uom unitcode"), "unit"),
    **dict.fromkeys(_words("timezone tz utcoffset offset gmtoffset zone"), "zone"),
    **dict.fromkeys(_words("station stationid stn stnid icao"), "station"),
    **dict.fromkeys(_words("stid site siteid usaf wban"), "station"),
    **dict.fromkeys(_words("report reporttype obstype rtype"), "report"),
    **dict.fromkeys(_words("metar rawob rawtext rawmetar"), "metar"),
    **dict.fromkeys(_words("metartext rawreport metarreport taf"), "metar"),
    **dict.fromkeys(_words("u u10 10u u10m 10mu ugrd"), "u"),
    **dict.fromkeys(_words("ugrd10m uwnd uwind windu ucomponent eastwardwind uas"), "u"),
    **dict.fromkeys(_words("v v10 10v v10m 10mv vgrd"), "v"),
    **dict.fromkeys(_words("vgrd10m vwnd vwind windv vcomponent northwardwind vas"), "v"),
}
NO_UNIT = frozenset(
    _words("""
    avg average mean m min minute above ground agl sustained surface hourly h from to
    towards toward utc
    """)
)
TEMPERATURE = frozenset(
    _words("""
    temperature temp tmpf tmpc airtemp t2m temperatur
    """)
)
TEMPERATURE_UNITS = {
    **dict.fromkeys(_words("c degc celsius"), "C"),
    **dict.fromkeys(_words("f degf fahrenheit"), "F"),
}
RAIN = frozenset(("rain", "rainfall", "precip", "precipitation", "pop"))
RAIN_UNITS = {
    **dict.fromkeys(_words("mm millimeter millimeters millimetre millimetres"), "mm"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
}
# of rain that fell in more than the hour of its row
NOT_OF_AN_HOUR = frozenset(
    _words("""
    accum accumulated accumulation cumulative daily today month monthly year yearly ytd since storm
    event midnight 3h 3hr 6h 6hr 12h 12hr 24h 24hr
    """)
)
# words that change nothing in the name of a wind or a time; any other is told
PLAIN = frozenset(
    _words("""
    a and at above agl air average avg arithmetic by calm clock clockwise column current data
    date day degree degrees deg degt true datetime day direction forecast from full ground
    high hour hourly hours in is it last local lt mean measured meteorological met min minute
    minutes month most nearest north now obs observation observations observed of on or
    prevailing predicted reading recorded referred referenced reference relative report
    reported resultant rounded sensor site station stations surface sustained tens the time
    times to towards toward which where blows blowing comes coming going goes valid value
    values vector w whole with year zone s h m t ft km nm mi nmi per second sec knots dd mm yyyy yy
    hh ss am pm format iso standard seconds ms milliseconds since unix epoch utc gmt
    """)
)
