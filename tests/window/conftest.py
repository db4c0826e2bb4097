"""Windows for the tests of the window."""

from tests.window.fixtures import job_rig, rig, threaded_rig

__all__ = ["job_rig", "rig", "threaded_rig"]
