//! The report as Markdown; pictures are in the HTML report only.

use core::fmt::Write as _;

use super::block::Block;
use super::content::content;
use crate::design::TestDesign;
use crate::error::Error;
use crate::judge::Judgement;
use crate::source::markdown as escape;

/// The report of a design and, where there is one, of its judgement.
///
/// # Errors
/// `report.other-test` for a judgement of another test; none else that the design itself did not have.
pub fn markdown(design: &TestDesign, judgement: Option<&Judgement>) -> Result<String, Error> {
    let mut out = String::new();
    for block in content(design, judgement)? {
        let _ = match block {
            Block::Heading(n, text) => {
                writeln!(out, "{} {}\n", "#".repeat(n.into()), escape(&text))
            }
            Block::Text(text) => writeln!(out, "{}\n", escape(&text)),
            Block::Caution(text) => writeln!(out, "> **Caution.** {}\n", escape(&text)),
            Block::Stop(text) => writeln!(out, "> **{}**\n", escape(&text)),
            Block::State(state, text) => writeln!(out, "**{state}**: {}\n", escape(&text)),
            Block::Sheet => Ok(()),
            Block::Picture(title, _) => writeln!(out, "_Picture in the HTML report: {title}_\n"),
            Block::Table(head, rows) => {
                let _ = writeln!(out, "| {} |\n|{}", head.join(" | "), "---|".repeat(head.len()));
                for row in rows {
                    let cells: Vec<String> = row.iter().map(|c| escape(c)).collect();
                    let _ = writeln!(out, "| {} |", cells.join(" | "));
                }
                writeln!(out)
            }
            Block::Fingerprints(prints) => {
                let _ = writeln!(out, "| of | SHA-256 |\n|---|---|");
                for (name, print) in &prints {
                    let _ = writeln!(out, "| {} | {print} |", escape(name));
                }
                writeln!(out)
            }
            Block::Signatures(roles) => {
                let _ = writeln!(out, "| role | name | date | signature |\n|---|---|---|---|");
                for role in roles {
                    let _ = writeln!(out, "| {role} |  |  |  |");
                }
                writeln!(out)
            }
            Block::Working(lines) => {
                lines.iter().for_each(|l| out.push_str(&l.markdown()));
                writeln!(out)
            }
        };
    }
    Ok(out)
}
