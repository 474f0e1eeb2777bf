"""fits completion: what a shell needs to complete commands, options and words of a list."""

from __future__ import annotations

import inspect
import os
from collections.abc import Callable, Mapping
from typing import Annotated, Any

import typer

from fits.cli.options import COMPLETING, Result, chosen, generated, output_option
from fits.errors import Fault, InputError, meant

SHELLS = ("bash", "zsh", "fish")
_HELP = """Print the script by which a shell completes commands, options and words.

\b
Once, for your shell:
  bash: save it as ~/.local/share/bash-completion/completions/fits
  zsh:  save it as _fits in a folder of your fpath
  fish: save it as ~/.config/fish/completions/fits.fish

\b
Examples:
  fits completion bash
  fits completion fish -o fits.fish
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    shell = inspect.Parameter(
        "shell",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[
            str,
            typer.Argument(metavar="SHELL", help=", ".join(SHELLS), autocompletion=chosen(SHELLS)),
        ],
    )
    return generated(_completion, [shell, output_option()], _HELP)


def _completion(shell: str, *, output: str | None) -> Result:
    if shell not in SHELLS:
        raise InputError(Fault(f"must be one of {', '.join(SHELLS)}", shell, hint=meant(shell, SHELLS)))
    from typer.completion import get_completion_script  # type: ignore[attr-defined]

    script = get_completion_script(prog_name="fits", complete_var=COMPLETING, shell=shell)
    return Result(f"{script}\n".encode(), 0, output or "")


def answer(command: Any) -> int:
    """Answer a shell that asks, by its environment, how a line could go on; its exit status."""
    from typer.completion import completion_init  # type: ignore[attr-defined]

    completion_init()
    try:
        command.main([], prog_name="fits", complete_var=COMPLETING, standalone_mode=False)
    except SystemExit as done:
        return int(done.code or 0)
    except Exception:  # a line that can't be read yet has nothing to offer
        pass
    return 1


def listed(commands: Mapping[str, tuple[str, str]], incomplete: str) -> list[Any]:
    """The commands that a word may become, without importing any of them."""
    from typer.core import CompletionItem  # type: ignore[attr-defined]

    bash = os.environ.get(COMPLETING, "").endswith("bash")
    return [
        CompletionItem(name, help="" if bash else line)
        for name, (_, line) in commands.items()
        if name.startswith(incomplete)
    ]
