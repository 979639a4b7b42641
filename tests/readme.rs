//! The Rust lines of the README run, as they stand there.

#[doc = include_str!("../README.md")]
#[allow(dead_code, reason = "the text is read by the test below")]
const README: () = ();

mod lines {
    use proofspan::units::*;
    use proofspan::{TestSpec, design, report};

    /// The body of the README's program.
    pub fn main() -> Result<(), Box<dyn std::error::Error>> {
        let text = std::fs::read_to_string("examples/scenarios/terrace_strip.test.json")?;
        let design = design(TestSpec::from_json(&text)?)?; // every problem at once, or a design
        println!("jack line: {:.3} lbf net per strip", design.force().0.to(LBF)); // 17938.120
        design.cleared()?; // refuses while a stop holds
        let page = report::html(&design, None)?;
        assert!(page.contains("17938.1 lbf"));
        Ok(())
    }
}

/// The program above is that of the README, line for line but for blanks.
#[test]
fn the_rust_of_the_readme_runs() {
    let readme = include_str!("../README.md");
    let block = readme.split("```rust\n").nth(1).and_then(|b| b.split("```").next()).unwrap();
    let squeeze = |t: &str| t.split_whitespace().collect::<String>();
    let own = include_str!("readme.rs");
    let body = own.split("pub fn main()").nth(1).and_then(|b| b.split("\n    }\n").next()).unwrap();
    let wanted = block.split("fn main()").nth(1).unwrap().trim_end().trim_end_matches('}');
    assert_eq!(squeeze(body), squeeze(wanted));
    lines::main().unwrap();
}
