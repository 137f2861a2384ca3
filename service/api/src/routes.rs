//! The resources: one table of paths and methods, and one file for what each does.

pub mod authorities;
mod calculation;
pub mod comparison_batches;
pub mod comparisons;
pub mod dates;
pub mod docs;
mod fallback;
pub mod fuel_scale_charges;
pub mod goods_tests;
pub mod invoices;
pub mod management;
pub mod openapi_document;
pub mod parameters;
pub mod partial_exemption_years;
pub mod problems;
mod refused;
mod register;
pub mod sectors;
pub mod spend_kinds;
pub mod threshold_checks;
pub mod worked_examples;

use std::sync::Arc;

use actix_web::HttpRequest;
use actix_web::web::{self, ServiceConfig};

use crate::problem::Problem;
use crate::service::{Current, Service};

pub use calculation::buffers;
pub use register::{Allowed, resource};

/// A resource of the API.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resource {
    /// Comparisons of both schemes.
    Comparisons,
    /// Comparisons by the thousand.
    ComparisonBatches,
    /// The goods test alone.
    GoodsTests,
    /// The VAT of an invoice.
    Invoices,
    /// Checks of the limits.
    ThresholdChecks,
    /// Dates.
    Dates,
    /// Partial exemption years.
    PartialExemptionYears,
    /// Categories of business.
    Sectors,
    /// One category of business.
    Sector,
    /// Kinds of spend.
    SpendKinds,
    /// Dated numbers of the law.
    Parameters,
    /// One dated number of the law.
    Parameter,
    /// Road fuel scale charges.
    FuelScaleCharges,
    /// Authorities.
    Authorities,
    /// Published cases.
    WorkedExamples,
    /// One published case.
    WorkedExample,
    /// What a problem means.
    Problem,
    /// The API document.
    OpenApi,
    /// The page that shows the API document.
    Docs,
    /// Where the page is, for those who leave out the slash.
    DocsWithoutSlash,
}

impl Resource {
    /// Every resource.
    pub const ALL: &[Self] = &[
        Self::Comparisons,
        Self::ComparisonBatches,
        Self::GoodsTests,
        Self::Invoices,
        Self::ThresholdChecks,
        Self::Dates,
        Self::PartialExemptionYears,
        Self::Sectors,
        Self::Sector,
        Self::SpendKinds,
        Self::Parameters,
        Self::Parameter,
        Self::FuelScaleCharges,
        Self::Authorities,
        Self::WorkedExamples,
        Self::WorkedExample,
        Self::Problem,
        Self::OpenApi,
        Self::Docs,
        Self::DocsWithoutSlash,
    ];

    /// Its path, with braces for what varies; also its label in log and metrics.
    pub const fn path(self) -> &'static str {
        match self {
            Self::Comparisons => "/v1/comparisons",
            Self::ComparisonBatches => "/v1/comparisons/batch",
            Self::GoodsTests => "/v1/goods-tests",
            Self::Invoices => "/v1/invoices",
            Self::ThresholdChecks => "/v1/threshold-checks",
            Self::Dates => "/v1/dates",
            Self::PartialExemptionYears => "/v1/partial-exemption-years",
            Self::Sectors => "/v1/sectors",
            Self::Sector => "/v1/sectors/{id}",
            Self::SpendKinds => "/v1/spend-kinds",
            Self::Parameters => "/v1/parameters",
            Self::Parameter => "/v1/parameters/{id}",
            Self::FuelScaleCharges => "/v1/fuel-scale-charges",
            Self::Authorities => "/v1/authorities",
            Self::WorkedExamples => "/v1/worked-examples",
            Self::WorkedExample => "/v1/worked-examples/{id}",
            Self::Problem => "/v1/problems/{code}",
            Self::OpenApi => "/openapi.json",
            Self::Docs => "/docs/{file}",
            Self::DocsWithoutSlash => "/docs",
        }
    }

    /// The methods that it takes.
    pub const fn allowed(self) -> Allowed {
        match self {
            Self::Comparisons
            | Self::ComparisonBatches
            | Self::GoodsTests
            | Self::Invoices
            | Self::PartialExemptionYears
            | Self::ThresholdChecks
            | Self::Dates => Allowed::Post,
            _ => Allowed::Get,
        }
    }

    /// Whether the API document describes it; the other resources show the document to people.
    pub const fn is_documented(self) -> bool {
        !matches!(self, Self::Docs | Self::DocsWithoutSlash)
    }

    fn register(self, config: &mut ServiceConfig) {
        let (path, allowed) = (self.path(), self.allowed());
        match self {
            Self::Comparisons => config.service(resource(path, path, allowed, comparisons::create_comparison)),
            Self::ComparisonBatches => {
                config.service(resource(path, path, allowed, comparison_batches::create_comparison_batch))
            }
            Self::GoodsTests => config.service(resource(path, path, allowed, goods_tests::create_goods_test)),
            Self::Invoices => config.service(resource(path, path, allowed, invoices::create_invoice)),
            Self::ThresholdChecks => {
                config.service(resource(path, path, allowed, threshold_checks::create_threshold_check))
            }
            Self::Dates => config.service(resource(path, path, allowed, dates::create_dates)),
            Self::PartialExemptionYears => {
                config.service(resource(path, path, allowed, partial_exemption_years::create_partial_exemption_year))
            }
            Self::Sectors => config.service(resource(path, path, allowed, sectors::list_sectors)),
            Self::Sector => config.service(resource(path, path, allowed, sectors::get_sector)),
            Self::SpendKinds => config.service(resource(path, path, allowed, spend_kinds::list_spend_kinds)),
            Self::Parameters => config.service(resource(path, path, allowed, parameters::list_parameters)),
            Self::Parameter => config.service(resource(path, path, allowed, parameters::get_parameter)),
            Self::FuelScaleCharges => {
                config.service(resource(path, path, allowed, fuel_scale_charges::get_fuel_scale_charges))
            }
            Self::Authorities => config.service(resource(path, path, allowed, authorities::list_authorities)),
            Self::WorkedExamples => {
                config.service(resource(path, path, allowed, worked_examples::list_worked_examples))
            }
            Self::WorkedExample => config.service(resource(path, path, allowed, worked_examples::get_worked_example)),
            Self::Problem => config.service(resource(path, path, allowed, problems::get_problem)),
            Self::OpenApi => config.service(resource(path, path, allowed, openapi_document::get_openapi_document)),
            // The page itself is the file without a name.
            Self::Docs => config.service(resource("/docs/{file:[^/]*}", path, allowed, docs::page)),
            Self::DocsWithoutSlash => config.service(resource(path, path, allowed, docs::to_page)),
        };
    }
}

/// The service that a request is answered by.
fn service(request: &HttpRequest) -> Result<Arc<Service>, Problem> {
    request.app_data::<web::Data<Current>>().map(|current| current.service()).ok_or_else(Problem::internal)
}

/// Registers every resource of the API, and the answer to every other address.
pub fn configure(config: &mut ServiceConfig) {
    for resource in Resource::ALL {
        resource.register(config);
    }
    config.default_service(web::to(fallback::not_found));
}

#[cfg(test)]
mod tests;
