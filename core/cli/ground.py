"""check: what is wrong with a property file."""


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    check = commands.add_parser("check", help="validates a property file")
    check.add_argument("file")
    check.set_defaults(run=_check)


def _check(options) -> str:
    from core.ground.report import check_report

    return "\n".join(check_report(options.file))
