"""python -m fits"""

from fits.cli.main import run

run()
