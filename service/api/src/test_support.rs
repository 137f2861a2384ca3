//! What the tests of several modules share.

use std::sync::LazyLock;

use actix_web::dev::Service as _;
use actix_web::http::header::HeaderMap;
use actix_web::test::{TestRequest, init_service, read_body};
use actix_web::web::{Data, ServiceConfig};
use serde_json::Value;
use vat_schemes::law::Law;

use crate::app::{self, Shared};
use crate::limits::Limits;
use crate::routes;
use crate::service::{Current, Service};
use crate::settings::Settings;
use crate::telemetry::Metrics;

/// A request that is compared without objection.
pub(crate) const REQUEST: &str = r#"{
    "reference": "r1",
    "period": { "start": "2026-04-01", "end": "2026-06-30" },
    "business": { "registered_on": "2019-02-01", "sector": "management-consultancy" },
    "sales": [{ "treatment": "standard_rated", "net": "24000.00" }],
    "purchases": [{ "spend": "services", "gross": "1800.00" }]
}"#;

/// The law that comes with the service.
pub(crate) fn law() -> Law {
    Law::built_in().expect("the law")
}

/// The service with small bounds, made once for all tests.
pub(crate) fn service() -> Data<Current> {
    static SERVICE: LazyLock<Data<Current>> = LazyLock::new(|| {
        let mut settings = Settings::defaults().expect("settings");
        settings.max_body_bytes = 4096;
        Data::new(Current::new(Service::new(law(), &settings).expect("a service")))
    });
    SERVICE.clone()
}

/// What an answer consists of.
pub(crate) struct Answer {
    status: u16,
    headers: HeaderMap,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    pub(crate) fn status(&self) -> u16 {
        self.status
    }

    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name).and_then(|value| value.to_str().ok())
    }

    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.body).expect("JSON")
    }
}

/// Asks the API.
pub(crate) async fn ask(request: TestRequest) -> Answer {
    ask_with(request, &Data::new(Metrics::new().expect("metrics")), routes::configure).await
}

/// Asks the API's layers around other resources.
pub(crate) async fn ask_with(
    request: TestRequest,
    metrics: &Data<Metrics>,
    configure: fn(&mut ServiceConfig),
) -> Answer {
    let shared = Shared {
        service: service(),
        origins: Data::default(),
        keys: Data::new(None),
        limits: Data::new(Limits::new(&Settings::defaults().expect("settings"))),
        metrics: metrics.clone(),
        spans: Data::default(),
        readiness: Data::default(),
    };
    let app = init_service(app::api_with(shared, configure)).await;
    let response = app.call(request.to_request()).await.expect("every request is answered");
    let (status, headers) = (response.status().as_u16(), response.headers().clone());
    Answer { status, headers, body: read_body(response).await.to_vec() }
}
