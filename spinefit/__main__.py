"""What does ``python -m spinefit`` do? The same as the command ``spinefit``."""

from spinefit.cli.main import run

if __name__ == "__main__":
    run()
