"""What is wrong with a command line, in words for a musician instead of those of the command library."""

import click


def in_words(error: click.ClickException) -> str:
    """Return what was wrong, one line without a capital unless it begins with a name."""
    if isinstance(error, click.MissingParameter):
        return f"{_name(error)} is missing."
    if isinstance(error, click.NoSuchOption):
        near = f" Did you mean {error.possibilities[0]}?" if error.possibilities else ""
        return f"there is no option {error.option_name}.{near}"
    if isinstance(error, click.BadOptionUsage):
        return f"{error.option_name} needs a word or a number after it."
    if isinstance(error, click.BadParameter):
        # The library's own words put what was typed and what may be in quotes; ours have none.
        said = error.message.replace("'", "").replace(" is not one of ", " is none of ")
        return f"{_name(error)}: {said}"
    extra, _, words = error.format_message().partition("unexpected extra argument")
    return (
        f"{words.lstrip('s ').strip('()')}: more than the command takes." if extra and words else error.format_message()
    )


def _name(error: click.BadParameter) -> str:
    """Return an option as it is typed, an argument as the help calls it."""
    param = error.param
    if isinstance(param, click.Option):
        return (
            f"{param.opts[0]} {param.metavar or ''}".strip()
            if isinstance(error, click.MissingParameter)
            else param.opts[0]
        )
    return (param.metavar or (param.name or "").upper()) if param is not None else "a word"
