"""What a class does with it: the classroom rule, observations, tests, rule and bench compared."""
