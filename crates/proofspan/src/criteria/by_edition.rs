//! What every edition says of one record.

use super::worst::Judged;
use crate::verdict::State;

crate::answer! {
    /// What one edition says of the record.
    pub struct ByEdition {
        /// The name of the edition.
        edition: String,
        /// The edition's own outcome, all criteria together.
        code: State,
        /// The guarded outcome.
        guarded: State,
        /// What decides the guarded one.
        because: String,
        /// Every criterion.
        criteria: Vec<Judged>,
    }
}

crate::answer! {
    /// An edition that could not be asked.
    pub struct NotAsked {
        /// The name of the edition.
        edition: String,
        /// The codes of what it refused.
        codes: Vec<String>,
    }
}

crate::answer! {
    /// One record under every edition.
    pub struct SideBySide {
        /// The test method.
        method: String,
        /// Every edition that has criteria for the method.
        editions: Vec<ByEdition>,
        /// Those that could not be asked, each with its codes.
        refused: Vec<NotAsked>,
    }
}

impl SideBySide {
    /// What every edition says in its order: its name, what is compared, code and guarded outcome.
    pub(crate) fn rows(&self) -> Vec<[String; 5]> {
        let mut rows = Vec::new();
        for e in &self.editions {
            let row = |cells: [&str; 4]| {
                let [what, how, code, guarded] = cells.map(str::to_owned);
                [e.edition.clone(), what, how, code, guarded]
            };
            rows.push(row(["all together", &e.because, e.code.word(), e.guarded.word()]));
            rows.extend(e.criteria.iter().filter(|c| c.of_edition()).map(|c| {
                let (code, guarded) = (c.outcome.code.state, c.outcome.guarded.state);
                row([&c.about, &c.formula, code.word(), guarded.word()])
            }));
        }
        rows.extend(self.refused.iter().map(|refused| {
            let codes = format!("not asked: {}", refused.codes.join(", "));
            [refused.edition.clone(), codes, String::new(), String::new(), String::new()]
        }));
        rows
    }

    /// The table in Markdown: a row for every edition and every criterion of its own, the rows about the
    /// run of the test left out, which are those of all.
    #[must_use]
    pub fn table(&self) -> String {
        let mut out =
            "| edition | criterion | comparison | code | guarded |\n|---|---|---|---|---|\n"
                .to_owned();
        for cells in self.rows() {
            let cells: Vec<String> = cells.iter().map(|c| c.replace('|', "\\|")).collect();
            out += &format!("| {} |\n", cells.join(" | "));
        }
        out
    }
}
