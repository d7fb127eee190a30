//! The pages for users and developers, as far as a machine can tell whether they are true.
//!
//! Knows where a page points and which commands it names. Whether it is well said, a person must
//! see.

use std::{fs, path::Path};

#[test]
fn links_lead_somewhere() {
    for page in ["README.md", "DEVELOPERS.md"] {
        let text = read(page);
        for target in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let there = match target.strip_prefix('#') {
                Some(anchor) => anchors(&text).any(|it| it == anchor),
                None => target.contains("://") || top().join(target).exists(),
            };
            assert!(there, "{page} points to {target}, which is not there");
        }
    }
}

#[test]
fn the_readme_opens_with_the_job() {
    let page = read("README.md");
    let first = page.lines().find(|line| !line.is_empty() && !line.starts_with('#')).unwrap();
    assert!(
        first.contains("gaps") && 200 < first.len(),
        "one paragraph says what it is for: {first}"
    );
}

#[test]
fn ci_runs_and_installs_what_the_readme_names() {
    let (page, ci) = (read("README.md"), read(".ci/run"));
    let commands = page.lines().map(str::trim);
    for command in commands.filter(|line| line.starts_with("cargo test")) {
        assert!(ci.contains(command), "CI does not run `{command}`");
    }
    let install = page.lines().find_map(|line| line.strip_prefix("apt-get install ")).unwrap();
    for package in install.split_whitespace() {
        assert!(ci.contains(package), "CI does not install {package}");
    }
}

/// What the headings of a page can be pointed to by.
fn anchors(page: &str) -> impl Iterator<Item = String> {
    let headings = page.lines().filter_map(|line| line.strip_prefix("## "));
    headings.map(|it| it.trim().to_lowercase().replace(' ', "-"))
}

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(name: &str) -> String {
    fs::read_to_string(top().join(name)).unwrap()
}
