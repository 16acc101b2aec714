"""The march through the year: one step is a value in, a value out, and the ledger closes."""
