"""What readers share: bytes to text, local clocks, reports to hours, spans, typical years."""
