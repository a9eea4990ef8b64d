"""What earns a mark, in a learner's own words."""
