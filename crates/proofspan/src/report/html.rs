//! The report as one self-contained HTML file.

use core::fmt::Write as _;

use super::block::Block;
use super::content::content;
use crate::design::TestDesign;
use crate::error::Error;
use crate::formula::Line;
use crate::judge::Judgement;
use crate::source::html as escape;

const STYLE: &str = "body{font:15px/1.5 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#222}\
h1{font-size:1.6rem}h2{margin-top:2rem;border-bottom:1px solid #ccc}table{border-collapse:collapse;margin:.8rem 0;width:100%}\
th,td{border:1px solid #ccc;padding:.25rem .5rem;text-align:left;vertical-align:top;font-size:.85rem;overflow-wrap:anywhere}th{background:#f2f2f2}\
.caution{border-left:6px solid #d68910;background:#fef5e7;padding:.5rem 1rem}.stop{border-left:6px solid #c0392b;background:#fdedec;color:#922b21;padding:.5rem 1rem;margin:.4rem 0}\
.state{font-size:1.2rem;border:2px solid #444;padding:.5rem 1rem;margin:1rem 0}figure{margin:1rem 0}figcaption{font-size:.85rem;color:#555}\
.step{margin:.35rem 0 .35rem 1rem;font-size:.85rem}.step code{display:block;overflow-wrap:anywhere}.step i{color:#666}";

/// The report of a design and, where there is one, of its judgement.
///
/// # Errors
/// None that the design itself did not have.
pub fn html(design: &TestDesign, judgement: Option<&Judgement>) -> Result<String, Error> {
    let title = escape(&design.spec.title);
    let mut out = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>{title}</title><style>{STYLE}</style></head><body>\n"
    );
    for block in content(design, judgement)? {
        let _ = match block {
            Block::Heading(n, text) => writeln!(out, "<h{n}>{}</h{n}>", escape(&text)),
            Block::Text(text) => writeln!(out, "<p>{}</p>", escape(&text)),
            Block::Caution(text) => writeln!(out, "<p class=\"caution\">{}</p>", escape(&text)),
            Block::Stop(text) => writeln!(out, "<p class=\"stop\">{}</p>", escape(&text)),
            Block::State(state, text) => {
                writeln!(out, "<p class=\"state\"><b>{state}</b>: {}</p>", escape(&text))
            }
            Block::Picture(title, svg) => {
                writeln!(out, "<figure>{svg}<figcaption>{}</figcaption></figure>", escape(&title))
            }
            Block::Table(head, rows) => {
                out.push_str("<table><tr>");
                head.iter().for_each(|h| out.push_str(&format!("<th>{}</th>", escape(h))));
                out.push_str("</tr>");
                for row in rows {
                    out.push_str("<tr>");
                    row.iter().for_each(|c| out.push_str(&format!("<td>{}</td>", escape(c))));
                    out.push_str("</tr>");
                }
                writeln!(out, "</table>")
            }
            Block::Working(lines) => {
                for line in &lines {
                    let _ = match line {
                        Line::About(heading) => writeln!(out, "<h4>{}</h4>", escape(heading)),
                        Line::Step(what, line, source) => writeln!(
                            out,
                            "<div class=\"step\">{}<code>{}</code><i>{}</i></div>",
                            escape(what),
                            escape(line),
                            escape(source)
                        ),
                    };
                }
                Ok(())
            }
        };
    }
    out.push_str("</body></html>\n");
    Ok(out)
}
