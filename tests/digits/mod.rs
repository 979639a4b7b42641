//! Numbers that must agree, and how many digits of them do.

/// Like `approx::assert_relative_eq!`, with the digits that agree printed.
macro_rules! agree {
    ($found:expr, $want:expr, max_relative = $within:expr $(,)?) => {{
        let (found, want) = ($found, $want);
        let off = (found / want - 1.0_f64).abs().max(1e-16);
        println!("{}: {found} against {want}, {:.1} digits", stringify!($found), -off.log10());
        approx::assert_relative_eq!(found, want, max_relative = $within);
    }};
}
