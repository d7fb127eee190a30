//! What goes into a package beside the program: manual pages and completions made from the
//! commands themselves, so that neither can tell of an option that is not there.
//!
//! With `UPDATE_SNAPSHOTS` set in the environment the files are written anew instead.

use clap::CommandFactory as _;
use clap_complete::Shell;
use gapwright::cli::Args;
use std::{collections::BTreeSet, fs, path::Path};
use tempfile::TempDir;

#[test]
#[expect(clippy::disallowed_methods, reason = "files of the package, written on request")]
fn manual_pages_and_completions_are_those_of_the_commands() {
    let made = TempDir::new().unwrap();
    clap_mangen::generate_to(Args::command(), made.path()).unwrap();
    for shell in [Shell::Bash, Shell::Fish, Shell::Zsh] {
        clap_complete::generate_to(shell, &mut Args::command(), "gapwright", made.path()).unwrap();
    }
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/package/made");
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        if kept.exists() {
            fs::remove_dir_all(&kept).unwrap();
        }
        fs::create_dir(&kept).unwrap();
        for (name, text) in files(made.path()) {
            fs::write(kept.join(name), text).unwrap();
        }
    }
    let (made, kept) = (files(made.path()), files(&kept));
    let names = |files: &[(String, String)]| -> Vec<String> {
        files.iter().map(|(name, _)| name.clone()).collect()
    };
    assert_eq!(names(&made), names(&kept), "run `just accept` to make them anew");
    for ((name, made), (_, kept)) in made.iter().zip(&kept) {
        assert!(made == kept, "{name} is not of today; run `just accept` to make it anew");
    }
}

/// What the About page shows and the package brings along: each crate in the program for Linux, with
/// its version and licence, as `Cargo.lock` says.
#[test]
#[expect(clippy::disallowed_methods, reason = "a file of the program, written on request")]
fn the_list_of_licences_is_that_of_the_crates_in_the_program() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let tree = std::process::Command::new(env!("CARGO"))
        .args(["tree", "--locked", "--offline", "--edges", "normal", "--prefix", "none"])
        .args(["--target", "x86_64-unknown-linux-gnu", "--format", "{p}, {l}"])
        .current_dir(top)
        .output()
        .unwrap();
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let tree = String::from_utf8(tree.stdout).unwrap();
    let rows = tree.lines().map(|line| line.trim_end_matches(" (*)").replace(" (proc-macro)", ""));
    let rows: BTreeSet<String> = rows.filter(|line| !line.starts_with("gapwright ")).collect();
    for row in &rows {
        assert!(row.rsplit_once(", ").is_some_and(|(_, licence)| !licence.is_empty()), "{row}");
    }
    let made: String = rows.into_iter().map(|row| row + "\n").collect();
    let kept = top.join("assets/licences/crates.txt");
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        fs::write(&kept, &made).unwrap();
    }
    assert!(made == fs::read_to_string(kept).unwrap(), "run `just accept` to make it anew");
}

/// The names and texts in a folder, sorted by name.
fn files(folder: &Path) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    files.sort();
    files
}
