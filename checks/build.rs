//! Lists the check files, so that a new one is picked up by being there.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs};

fn main() {
    let here = env::var("CARGO_MANIFEST_DIR").expect("cargo sets it");
    println!("cargo:rerun-if-changed={here}");
    let mut names: Vec<String> = fs::read_dir(&here)
        .expect("the crate's folder can be read")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".toml") && name != "Cargo.toml")
        .collect();
    names.sort();
    let mut list = String::from("&[\n");
    for name in names {
        let path = Path::new(&here).join(&name);
        writeln!(list, "    ({name:?}, include_str!({path:?})),").expect("a string takes all");
    }
    list.push(']');
    let out = Path::new(&env::var("OUT_DIR").expect("cargo sets it")).join("files.rs");
    fs::write(out, list).expect("the build folder can be written");
}
