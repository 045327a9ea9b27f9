"""Rules of where probes and senders sit: the hottest cylinder, the place the limit is written for."""
