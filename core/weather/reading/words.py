"""The words of a name or a line, however it is written."""

import re
import unicodedata


def tokens(text: str) -> list[str]:
    """Words of a name, small and without accents. Args: such as windSpeed_mph."""
    plain = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("\ufeff", ""))
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    plain = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", plain)
    return [w for w in re.split(r"[^a-z0-9]+", plain.casefold()) if w]
