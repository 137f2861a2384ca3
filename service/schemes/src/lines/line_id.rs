use crate::money::Money;
use crate::refusal::{Amount, LineField, Place, Refusal, RefusalCode};
use crate::workings::Traced;

/// A list of lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum List {
    Sales,
    Purchases,
}

/// A line of the request, by which its steps and places are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct LineId {
    pub list: List,
    pub index: usize,
}

impl LineId {
    /// A place in the line.
    pub fn place(self, field: LineField) -> Place {
        match self.list {
            List::Sales => Place::Sale(self.index, field),
            List::Purchases => Place::Purchase(self.index, field),
        }
    }

    /// The id of a step about the line.
    pub fn id(self, step: &str) -> String {
        format!("{}/{}/{step}", self.list_name(), self.index)
    }

    /// The label of a step about the line; people count from one.
    pub fn label(self, what: &str) -> String {
        format!("{what} of {} line {}", self.list_name(), self.index + 1)
    }

    /// An amount that the caller gave in the line.
    pub fn given(self, value: Money, amount: Amount) -> Traced<Money> {
        Traced::given(value, self.place(LineField::Amount(amount)))
    }

    #[cold]
    pub fn refuse(self, field: LineField, code: RefusalCode, detail: impl Into<String>) -> Refusal {
        Refusal::new(self.place(field), code, detail)
    }

    fn list_name(self) -> &'static str {
        match self.list {
            List::Sales => "sales",
            List::Purchases => "purchases",
        }
    }
}
