"""How answers are marked: numbers and words, each mark with its reason.

The page marks from the same plain data (``views/quiz/mark.js``); a test holds the two together.
"""
