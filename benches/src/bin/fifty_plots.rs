//! Writes the farm of fifty plots to the path given.

use std::process::ExitCode;

fn main() -> ExitCode {
    let Some(path) = std::env::args_os().nth(1) else {
        eprintln!("give the path of the book to write");
        return ExitCode::from(2);
    };
    match benches::fifty::create(path) {
        Ok(_) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}
