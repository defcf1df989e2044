"""Small wind histories made for tests."""


def open_log(first_day: int = 3, last_day: int = 8) -> bytes:
    """A log of a few November days that leaves its order of day and month, its unit and
    its zone open: 03/11/2025 may be 3 November or 11 March. NW, 8 of something, all through."""
    rows = [
        f"{day:02d}/11/2025,{hour:02d}:00,8,NW"
        for day in range(first_day, last_day + 1)
        for hour in range(24)
    ]
    return "\n".join(["date,time,wind speed,wind direction", *rows, ""]).encode()
