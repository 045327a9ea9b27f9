"""Recorder logs of any make -> columns with units, the channels that can be believed."""
