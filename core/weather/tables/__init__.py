"""Tables of unknown making: text to cells, headers to columns, cells to winds and times."""
