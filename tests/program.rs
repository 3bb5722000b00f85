//! The program as it is started: the command, the language server, and what is offered for git. Here are the tests that
//! wait for other processes, apart from those that keep the processors busy.
mod comfort;
mod command;
mod common;
mod drafts;
mod git;
mod hostile;
mod letters;
mod notices;
mod save;
mod serve;
