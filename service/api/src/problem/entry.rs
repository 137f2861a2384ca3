//! What the catalogue says of each problem.

/// A problem as it might come back.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// Its sentence.
    pub detail: &'static str,
    /// The place in the request, where it concerns one.
    pub pointer: Option<&'static str>,
}

/// What a problem means, and who does what about it.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    /// The word that stands for it, for ever.
    pub code: &'static str,
    /// The HTTP status it comes with.
    pub status: u16,
    /// Its name.
    pub title: &'static str,
    /// What has happened.
    pub meaning: &'static str,
    /// What the caller does.
    pub caller: &'static str,
    /// What whoever runs the service does.
    pub operator: &'static str,
    /// What whoever develops the service does.
    pub developer: &'static str,
    /// An instance of it.
    pub example: Example,
}

/// For problems that the request alone causes.
pub(super) const OPERATOR_NOTHING: &str = "Nothing: the request is at fault. A sudden rise of this code in vat_schemes_problems_total usually follows a release of one client: the request ids in the log tell whose.";
/// For problems of the shape of a request.
pub(super) const DEVELOPER_SHAPE: &str = "Nothing, unless the request is valid by the API document: then the document and the decoder differ, and a test must show it.";
/// For problems that the law or the figures cause.
pub(super) const DEVELOPER_LAW: &str = "Nothing, unless the law does admit an answer: then correct the rule or the table that the refusal comes from, with its authority.";
