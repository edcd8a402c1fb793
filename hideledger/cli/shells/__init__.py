"""Scripts by which a shell finishes what is typed behind `hideledger`, made from the parser itself at the time they are asked for."""
