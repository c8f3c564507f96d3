"""Speed as ratios, each measured in one run beside what it is compared with; see `scripts/bench --help`."""
