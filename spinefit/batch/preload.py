"""What does a process that checks books need loaded? All stages, once, before it is forked.

Loaded by the server that processes at work are forked from, and by nothing else. It leaves the
group of the process that started it, so that what is sent to the whole group, as by a terminal or
by a service that is ended, is its parent's to answer alone; until then it hears nothing.
"""

import os
import signal

import spinefit.backs
import spinefit.batch.work
import spinefit.pipeline
import spinefit.say.as_json  # noqa: F401

os.setpgid(0, 0)
signal.signal(signal.SIGTERM, signal.SIG_IGN)  # forgets one that came in the meantime
signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGTERM})
signal.signal(signal.SIGTERM, signal.SIG_DFL)
