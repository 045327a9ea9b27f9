"""Truth, survey and budget plots, drawn in the ink of the sheets."""
