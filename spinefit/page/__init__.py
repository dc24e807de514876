"""The page: the whole job in a browser, on this machine only.

`server` serves it to who has the secret, `children` let processes of their own answer, `child` is
what runs in one, `questions` are what it can be asked. Everything that is shown comes from the
planner, the drawings and the sheets of the other rooms; nothing is worked out here.
"""
