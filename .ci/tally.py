"""What the outside readers check, counted in one place."""
import sys

passed, failed = 0, []


def check(ok, what):
    global passed
    if ok:
        passed += 1
    else:
        failed.append(what)
        print("FAIL", what)


def finish():
    """Says how many checks passed and ends the program."""
    print(f"{passed} passed, {len(failed)} failed")
    sys.exit(1 if failed else 0)
