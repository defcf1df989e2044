"""XML from strangers: no document types, no entities, names without case or namespace."""

from typing import Any
from xml.etree.ElementTree import Element, ParseError

from core.ground.exchange.items import BadMap


def read_xml(data: bytes, where: str) -> Element:
    """The root of an XML document.

    Raises: BadMap for a document type or entities, and for what is not XML.
    """
    import defusedxml.ElementTree as safe
    from defusedxml.common import DefusedXmlException

    try:
        # some handhelds put blank lines before the declaration
        return safe.fromstring(data.lstrip(), forbid_dtd=True)
    except DefusedXmlException as error:
        raise BadMap(
            f"the file brings a document type or entities ({type(error).__name__})",
            where,
            "Save it from the map program again, without a DOCTYPE.",
        ) from None
    except ParseError as error:
        line, column = error.position
        raise BadMap(
            f"not XML at line {line}, column {column + 1}: {_reason(error)}",
            where,
            "The file may be cut off: save it again from the map program.",
        ) from None
    except (LookupError, ValueError) as error:
        raise BadMap(
            f"the file's encoding cannot be read: {error}", where, "Save it as UTF-8."
        ) from None


def _reason(error: ParseError) -> str:
    return str(error).split(": line")[0]


def tag(element: Any) -> str:
    """An element's name in small letters, without its namespace; empty for comments."""
    name = element.tag
    return name.rsplit("}", 1)[-1].lower() if isinstance(name, str) else ""


def children(element: Element, *names: str) -> list[Element]:
    """Children of some names, in order."""
    return [child for child in element if tag(child) in names]


def element_text(element: Element, *names: str) -> str:
    """The text of the first child of these names that has any; else empty."""
    for name in names:
        for child in children(element, name):
            if child.text and child.text.strip():
                return child.text.strip()
    return ""


def attribute(element: Element, name: str) -> str:
    """An attribute whatever the case of its name; empty if absent."""
    return next((v for k, v in element.attrib.items() if k.lower() == name), "")
