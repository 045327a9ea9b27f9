"""The local page: an installation written, judged, drawn and cured in one window of a browser on the same machine."""
