//! Listening on the loopback address.

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use crate::app::{App, Options};
use crate::dispatch::router;

/// Why the app could not be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// Another program listens there, or the port is not ours to take.
    #[error("port {port} on this computer could not be opened: {cause}")]
    Port {
        /// The port asked for.
        port: u16,
        /// What the system said.
        cause: std::io::Error,
    },
    /// The farm book is there and cannot be used.
    #[error(transparent)]
    Book(#[from] book::BookError),
    /// The system gave no threads or the connection broke.
    #[error("the app stopped: {0}")]
    Stopped(#[from] std::io::Error),
}

/// Serves the app until it is interrupted. `ready` is called once with the address, when it answers.
///
/// Only this computer can reach it: it listens on the loopback address and nowhere else.
pub fn serve(options: &Options, ready: impl FnOnce(SocketAddr)) -> Result<(), ServeError> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(async {
        let asked = SocketAddr::from((Ipv4Addr::LOCALHOST, options.port));
        let listener = tokio::net::TcpListener::bind(asked)
            .await
            .map_err(|cause| ServeError::Port { port: options.port, cause })?;
        let address = listener.local_addr()?;
        let app = Arc::new(App::new(Options { port: address.port(), ..options.clone() })?);
        ready(address);
        // So that the first look at a large farm does not wait for every report.
        let early = Arc::clone(&app);
        tokio::task::spawn_blocking(move || early.make_reports());
        axum::serve(listener, router(app)).with_graceful_shutdown(interrupted()).await?;
        Ok(())
    })
}

async fn interrupted() {
    // Where the signal cannot be watched, the system's own handling ends the program.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
