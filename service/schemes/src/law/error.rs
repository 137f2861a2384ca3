//! What is wrong with a set of law tables.

use std::fmt;

use thiserror::Error;

/// One thing that is wrong with a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableProblem {
    /// The table's file.
    pub file: &'static str,
    /// The id of the entry concerned, if it is about one.
    pub id: Option<String>,
    /// What is wrong, in a sentence.
    pub what: String,
}

impl fmt::Display for TableProblem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.id {
            Some(id) => write!(formatter, "{}: {id}: {}", self.file, self.what),
            None => write!(formatter, "{}: {}", self.file, self.what),
        }
    }
}

/// The law tables cannot be used: everything that is wrong with them.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("the law tables are not fit for use:{list}", list = listed(&self.problems))]
pub struct LawError {
    pub(super) problems: Vec<TableProblem>,
}

impl LawError {
    /// Every problem found, table by table.
    pub fn problems(&self) -> &[TableProblem] {
        &self.problems
    }
}

fn listed(problems: &[TableProblem]) -> String {
    problems.iter().map(|problem| format!("\n  {problem}")).collect()
}
