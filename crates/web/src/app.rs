//! What every request shares.

use std::path::PathBuf;

use crate::assets::Assets;

/// How the app is started.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// The farm book to open. Without one the handbook still runs.
    pub book: Option<PathBuf>,
    /// Port on the loopback address; 0 takes any free one.
    pub port: u16,
}

/// The running app.
pub struct App {
    /// Style and script as the browser is given them.
    pub assets: Assets,
    port: u16,
}

impl App {
    /// The app as it will answer on `port`.
    #[must_use]
    pub fn new(port: u16) -> Self {
        Self { assets: Assets::embedded(), port }
    }

    /// The port a request's `Host` has to name.
    #[must_use]
    pub fn port(&self) -> u16 {
        self.port
    }

    /// Name of the farm whose book is open.
    #[must_use]
    pub fn farm_name(&self) -> Option<String> {
        None
    }
}
