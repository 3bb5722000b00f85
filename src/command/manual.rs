//! `wale manual`: the pages that the program `man` shows.

use super::streams::Streams;
use super::{Outcome, work};
use clap::CommandFactory;
use std::io;

/// Writes the manual page of `wale`, or of one of its commands, for the program `man`.
///
/// To read it at once: wale manual > wale.1, then man ./wale.1.
#[derive(Debug, clap::Args)]
pub(crate) struct Arguments {
    /// The command whose page is written; without it, the page of `wale` itself.
    #[arg(value_name = "COMMAND")]
    command: Option<String>,
}

/// Writes the page.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let mut all = super::Arguments::command();
    all.build();
    let page = match &arguments.command {
        None => clap_mangen::Man::new(all),
        Some(name) => {
            let Some(command) = all.find_subcommand(name).filter(|command| command.get_name() != "help") else {
                let known: Vec<&str> =
                    all.get_subcommands().map(clap::Command::get_name).filter(|name| *name != "help").collect();
                let said = format!(
                    "there is no command `{}`, so it has no page. The commands are {}.",
                    wale::clean::line(name),
                    known.join(", ")
                );
                return work::refuse(&said, streams);
            };
            let title = format!("wale-{name}");
            clap_mangen::Man::new(command.clone().bin_name(format!("wale {name}"))).title(title)
        }
    };
    page.render(&mut streams.output)?;
    Ok(Outcome::Clean)
}
