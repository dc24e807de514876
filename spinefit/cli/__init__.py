"""How is spinefit used from a terminal?

A rim: it reads what was typed, calls the pipeline and writes the answer. `main.status` is the
way in; each command lies in a file of its own and is loaded when it is asked for.
"""
