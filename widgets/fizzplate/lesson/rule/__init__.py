"""What a class learns to expect: the classroom rule, the explanation, tests, and where the bench differs."""
