"""The log in words: entries, what they teach, the air ledger."""
