"""What a person reads: tables, figures and one page."""
