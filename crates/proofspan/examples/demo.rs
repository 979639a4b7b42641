//! The main job end to end on embedded, invented scenarios: reports into the given folder.

use std::path::PathBuf;
use std::process::ExitCode;
use std::{env, fs};

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{TestSpec, design, judge, report};

/// Name, test, log, its layout, record.
type Scenario = (&'static str, &'static str, &'static str, &'static str, &'static str);

macro_rules! scenario {
    ($name:literal) => {
        (
            $name,
            include_str!(concat!("../../../examples/scenarios/", $name, ".test.json")),
            include_str!(concat!("../../../examples/scenarios/", $name, ".log.csv")),
            include_str!(concat!("../../../examples/scenarios/", $name, ".log.json")),
            include_str!(concat!("../../../examples/scenarios/", $name, ".record.json")),
        )
    };
}

const SCENARIOS: &[Scenario] = &[
    scenario!("terrace_strip"),
    scenario!("gallery_beam"),
    scenario!("archive_floor"),
    scenario!("classroom_strip"),
    scenario!("station_canopy"),
];

fn run(out: &PathBuf) -> Result<(), Box<dyn std::error::Error>> {
    fs::create_dir_all(out)?;
    fs::write(out.join("test.schema.json"), serde_json::to_string_pretty(&TestSpec::schema())?)?;
    for (name, test, log, layout, record) in SCENARIOS {
        let design = design(TestSpec::from_json(test)?)?;
        let layout: LogSpec = read_json(layout)?;
        let record: RunRecord = read_json(record)?;
        let judgement = judge(&design, &read_csv_text(log, &layout)?, &layout, &record)?;
        fs::write(out.join(format!("{name}.html")), report::html(&design, Some(&judgement))?)?;
        fs::write(out.join(format!("{name}.md")), report::markdown(&design, Some(&judgement))?)?;
        println!(
            "{name}: {} net per {}; {}, {}",
            design.force().0,
            design.target.unit.word(),
            judgement.state(),
            judgement.overall().0.because
        );
    }
    Ok(())
}

fn main() -> ExitCode {
    let out = env::args().nth(1).map_or_else(|| PathBuf::from("target/demo"), PathBuf::from);
    match run(&out) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("the demo failed: {error}");
            ExitCode::FAILURE
        }
    }
}
