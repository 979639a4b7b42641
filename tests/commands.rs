//! The two commands of the README exist as cargo aliases and CI calls one of them.

#[test]
fn ci_runs_verify_and_nothing_else() {
    let script = include_str!("../.ci/run");
    let commands: Vec<&str> = script.lines().skip(1).filter(|l| !l.trim().is_empty()).collect();
    assert_eq!(commands.last(), Some(&"exec cargo verify"), "{commands:?}");
    assert!(commands.contains(&"export PROOFSPAN_SUDO=1"), "{commands:?}");
    let aliases = include_str!("../.cargo/config.toml");
    for word in ["demo", "verify", "xtask"] {
        assert!(aliases.contains(&format!("{word} = ")), "alias {word} is missing");
    }
}
