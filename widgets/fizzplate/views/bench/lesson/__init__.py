"""What a class does at the bench: predicts, observes, tests, follows the explanation, fills a table."""
