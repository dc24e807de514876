"""How is the answer seen, printed and cut?

Everything drawn comes from the outlines and positions that were checked, at true size: scenes
in mm (`scene`), made by `back` and its like, written by `svg`, `pdf` and `html`.
"""
