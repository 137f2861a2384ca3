//! What handlers work with: the law, the answers made once at the start, and the bounds of a request.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};
use std::time::Duration;

use vat_schemes::law::Law;

use crate::prepared::Prepared;
use crate::problem::{ProblemCode, ProblemEntry};
use crate::settings::Settings;
use crate::wire::v1::law::{AuthorityList, ParameterHistory, ParameterList, SectorHistory, SectorList};
use crate::wire::v1::spend_kinds::SpendKindList;

/// The service, the same for every worker and every request.
#[derive(Debug)]
pub struct Service {
    /// The tables of law.
    pub law: Law,
    /// Answers that change only with the release or with the tables of law.
    pub prepared: PreparedAnswers,
    /// The most bytes that a request's body may have.
    pub max_body_bytes: usize,
    /// How long a request's body may take to arrive.
    pub body_timeout: Duration,
}

/// The service as it is now: newer tables of law take the place of older ones while it runs.
#[derive(Debug)]
pub struct Current(RwLock<Arc<Service>>);

impl Current {
    /// This service, for now.
    pub fn new(service: Service) -> Self {
        Self(RwLock::new(Arc::new(service)))
    }

    /// The service as it is now. Whoever holds it keeps it to the end of what it does.
    pub fn service(&self) -> Arc<Service> {
        Arc::clone(&self.0.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// From now on it is this one.
    pub fn replace(&self, service: Service) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(service);
    }
}

/// Answers that change only with the release or with the tables of law.
#[derive(Debug)]
pub struct PreparedAnswers {
    /// All categories of business, on the day on which the law was last checked.
    pub sectors: Prepared,
    /// The history of each, by id.
    pub sector: HashMap<String, Prepared>,
    /// All dated numbers, on the day on which the law was last checked.
    pub parameters: Prepared,
    /// The history of each, by id.
    pub parameter: HashMap<String, Prepared>,
    /// All kinds of spend.
    pub spend_kinds: Prepared,
    /// All authorities.
    pub authorities: Prepared,
    /// What each problem means, by code.
    pub problem: HashMap<String, Prepared>,
}

impl Service {
    /// The service with these tables of law.
    pub fn new(law: Law, settings: &Settings) -> Result<Self, anyhow::Error> {
        let prepared = PreparedAnswers::of(&law)?;
        Ok(Self { law, prepared, max_body_bytes: settings.max_body_bytes, body_timeout: settings.body_timeout() })
    }
}

impl PreparedAnswers {
    fn of(law: &Law) -> Result<Self, anyhow::Error> {
        let on = law.checked_on();
        Ok(Self {
            sectors: Prepared::json(&SectorList::new(law, on, None)?)?,
            sector: law
                .sectors()
                .map(|sector| Ok((sector.id().to_owned(), Prepared::json(&SectorHistory::from(sector))?)))
                .collect::<Result<_, serde_json::Error>>()?,
            parameters: Prepared::json(&ParameterList::new(law, on))?,
            parameter: law
                .parameters()
                .map(|parameter| {
                    Ok((parameter.id().as_str().to_owned(), Prepared::json(&ParameterHistory::from(parameter))?))
                })
                .collect::<Result<_, serde_json::Error>>()?,
            spend_kinds: Prepared::json(&SpendKindList::all())?,
            authorities: Prepared::json(&AuthorityList::from(law))?,
            problem: ProblemCode::ALL
                .iter()
                .map(|code| Ok((code.as_str().to_owned(), Prepared::json(&ProblemEntry::from(*code))?)))
                .collect::<Result<_, serde_json::Error>>()?,
        })
    }
}
