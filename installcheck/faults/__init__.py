"""Every single fault of an installation played through the solved network."""
