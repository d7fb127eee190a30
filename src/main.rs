//! Starts one shell, prints one error line, sets one exit code.

use anyhow::Result;
use chrono::{DateTime, Utc};
use clap::Parser as _;
use gapwright::{
    cli::{self, Args, Exit},
    gui::{self, Folders, Unopened},
};
use std::process::ExitCode;

fn main() -> ExitCode {
    match start(&Args::parse()) {
        Ok(exit) => exit.into(),
        Err(err) => {
            // Wrong usage never comes so far: reading the arguments ends with it.
            complain(&format!("gapwright: {err:#}"));
            Exit::WrongData.into()
        }
    }
}

fn start(args: &Args) -> Result<Exit> {
    if let Some(job) = &args.job {
        return cli::run(job, now());
    }
    let folders = Folders { cache: cli::cache_folder(), config: cli::config_folder() };
    match gui::run(|| cli::find_yard(args.yard.as_deref()), now, folders) {
        Ok(()) => Ok(Exit::Done),
        Err(Unopened::Yard(err)) => Err(err),
        Err(Unopened::Window(why)) => {
            complain(&format!("No window: {why}. Here are the decisions instead."));
            cli::print_decisions(args.yard.as_deref(), now())
        }
    }
}

#[expect(clippy::disallowed_methods, reason = "the shell is where the clock is read")]
fn now() -> DateTime<Utc> {
    Utc::now()
}

#[expect(clippy::print_stderr, reason = "the one place where a fault reaches the terminal")]
fn complain(message: &str) {
    eprintln!("{message}");
}
