"""Sheets in trade words, laid out and drawn: svg, png and pdf. Knows nothing of installations' documents."""
