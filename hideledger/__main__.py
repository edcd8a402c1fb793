"""`python -m hideledger` is the same front desk as the `hideledger` command."""

from hideledger.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
