//! Serves the app by itself: `cargo run -p web --example app -- serve [BOOK] [--port N]`.
//! Takes the same arguments as the command line's own `serve`, for work on the pages; with `--demo` the
//! book is made first and holds the demonstration farm.

use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut options = web::Options::default();
    let mut demo = false;
    let mut arguments = std::env::args().skip(1).filter(|word| word != "serve");
    while let Some(word) = arguments.next() {
        if word == "--demo" {
            demo = true;
        } else if word == "--port" {
            match arguments.next().map(|port| port.parse()) {
                Some(Ok(port)) => options.port = port,
                _ => return fail("--port takes a number from 0 to 65535"),
            }
        } else {
            options.book = Some(PathBuf::from(word));
        }
    }
    if let (true, Some(path)) = (demo, &options.book)
        && let Err(error) = advice::demo::create_on(path, jiff::ZonedDateTime::now().date())
    {
        return fail(&error.to_string());
    }
    match web::serve(&options, |address| println!("http://{address}/")) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => fail(&error.to_string()),
    }
}

fn fail(message: &str) -> ExitCode {
    eprintln!("{message}");
    ExitCode::FAILURE
}
