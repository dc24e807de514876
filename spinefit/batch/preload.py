"""What does a process that checks books need loaded? All stages, once, before it is forked."""

import spinefit.batch.work
import spinefit.pipeline
import spinefit.plan.sets
import spinefit.report.as_json  # noqa: F401
