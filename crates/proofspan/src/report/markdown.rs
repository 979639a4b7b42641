//! The report as Markdown; pictures are in the HTML report only.

use core::fmt::Write as _;

use super::block::Block;
use super::content::content;
use crate::design::TestDesign;
use crate::error::Error;
use crate::judge::Judgement;

/// The report of a design and, where there is one, of its judgement.
///
/// # Errors
/// None that the design itself did not have.
pub fn markdown(design: &TestDesign, judgement: Option<&Judgement>) -> Result<String, Error> {
    let mut out = String::new();
    let cell = |text: &str| text.replace('|', "\\|").replace('\n', " ");
    for block in content(design, judgement)? {
        let _ = match block {
            Block::Heading(n, text) => writeln!(out, "{} {text}\n", "#".repeat(n.into())),
            Block::Text(text) => writeln!(out, "{text}\n"),
            Block::Caution(text) => writeln!(out, "> **Caution.** {text}\n"),
            Block::Stop(text) => writeln!(out, "> **{text}**\n"),
            Block::State(state, text) => writeln!(out, "**{state}**: {text}\n"),
            Block::Picture(title, _) => writeln!(out, "_Picture in the HTML report: {title}_\n"),
            Block::Table(head, rows) => {
                let _ = writeln!(out, "| {} |\n|{}", head.join(" | "), "---|".repeat(head.len()));
                for row in rows {
                    let cells: Vec<String> = row.iter().map(|c| cell(c)).collect();
                    let _ = writeln!(out, "| {} |", cells.join(" | "));
                }
                writeln!(out)
            }
            Block::Working(working) => {
                writeln!(out, "{}", working.markdown(design.spec.display.system()))
            }
        };
    }
    Ok(out)
}
