//! Times the ranking of every cover for fifty plots of 500 draws and prints time and answer as JSON, for `covers.sh`;
//! with `facts`, the table and the gaps for the reference.

use std::time::Instant;

use benches::covers::Farm;

fn main() {
    let Some(farm) = Farm::new() else {
        eprintln!("the example of a year cannot be reckoned with: nothing was timed");
        std::process::exit(1);
    };
    if std::env::args().nth(1).as_deref() == Some("facts") {
        println!("{}", farm.facts());
        return;
    }
    let fastest = (0..20)
        .map(|_| {
            let started = Instant::now();
            std::hint::black_box(farm.rank());
            started.elapsed().as_secs_f64() * 1000.0
        })
        .fold(f64::INFINITY, f64::min);
    let answer = farm.rank();
    println!(
        "{{\"one_core_ms\": {fastest:.3}, \"suits\": {:.8}, \"serves\": {:.8}, \"out\": {}, \"order\": {}}}",
        answer.suits, answer.serves, answer.out, answer.order
    );
}
