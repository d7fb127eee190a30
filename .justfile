# Short names for the commands of DEVELOPERS.md. CI runs the same script, so they cannot drift.

[private]
default:
    @just --list

# What a change must pass before it is shown to anybody.
check:
    .ci/run quick

# All that CI runs, with the release build and a real window.
ci:
    .ci/run

# Only the tests, or those whose name holds WORD.
test *WORD:
    cargo test {{ WORD }}

# The window, or a headless command: `just run decide my-yard`.
run *ARGS:
    cargo run --release -- {{ ARGS }}

# Take the pictures as they are now. Look at each of them before you commit.
accept:
    UPDATE_SNAPSHOTS=1 cargo test --test it
    git status --short tests

# Frame times, opening a yard, and the start beside an empty window.
bench *WORD:
    cargo bench {{ WORD }}
