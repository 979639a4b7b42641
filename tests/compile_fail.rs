//! Mistakes that must not compile. Missing operators are `compile_fail` doctests in `units`, since
//! there the compiler prints the whole table.

#[test]
fn mixed_kinds_and_bases_do_not_compile() {
    trybuild::TestCases::new().compile_fail("tests/compile_fail/*.rs");
}
