"""The direct-current network of an installation, laid from its graph and solved at an operating point."""
