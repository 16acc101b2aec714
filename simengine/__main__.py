"""`python -m simengine` is the same as the command `simengine`."""

from simengine.cli import main

if __name__ == "__main__":
    main(prog_name="simengine")
