//! TLS, where the settings name a certificate and its key: versions 1.2 and 1.3, by rustls.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use actix_web::web::Data;
use anyhow::Context as _;
use rustls::ServerConfig;
use rustls::crypto::CryptoProvider;
use rustls::crypto::ring::default_provider;
use rustls::pki_types::pem::PemObject as _;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use rustls::server::{ClientHello, ResolvesServerCert};
use rustls::sign::CertifiedKey;
use x509_cert::Certificate;
use x509_cert::der::Decode as _;

use crate::reload::Reloadable;
use crate::settings::Settings;
use crate::telemetry::Metrics;
use crate::telemetry::metrics::ReloadOutcome;

/// A certificate and a key that cannot be used.
#[derive(Debug, thiserror::Error)]
#[error("the certificate {} with the key {} cannot be used: {reason:#}", .certificate.display(), .key.display())]
pub struct TlsFilesError {
    certificate: PathBuf,
    key: PathBuf,
    reason: anyhow::Error,
}

/// The two files.
#[derive(Clone, Debug)]
struct Files {
    certificate: PathBuf,
    key: PathBuf,
}

/// What one reading of the files gave.
#[derive(Clone, Debug)]
struct Read {
    certified: Arc<CertifiedKey>,
    not_after: i64,
}

/// The certificate that callers are shown, as it is now.
#[derive(Debug)]
pub struct Tls {
    files: Files,
    provider: Arc<CryptoProvider>,
    current: RwLock<Read>,
}

impl Tls {
    /// The certificate that the settings name, if they name one.
    ///
    /// # Errors
    /// What is wrong with it or its key.
    pub fn of(settings: &Settings) -> Result<Option<Arc<Self>>, TlsFilesError> {
        let (Some(certificate), Some(key)) = (settings.tls_certificate.clone(), settings.tls_key.clone()) else {
            return Ok(None);
        };
        let (files, provider) = (Files { certificate, key }, Arc::new(default_provider()));
        let current = RwLock::new(read(&files, &provider)?);
        Ok(Some(Arc::new(Self { files, provider, current })))
    }

    /// How connections are opened.
    ///
    /// # Errors
    /// Where the provider of ciphers knows neither version.
    pub fn server_config(self: &Arc<Self>) -> Result<ServerConfig, anyhow::Error> {
        let config = ServerConfig::builder_with_provider(Arc::clone(&self.provider))
            .with_protocol_versions(&[&rustls::version::TLS13, &rustls::version::TLS12])?
            .with_no_client_auth()
            .with_cert_resolver(Arc::clone(self) as Arc<dyn ResolvesServerCert>);
        Ok(config)
    }

    /// The last second at which the certificate is good, since 1970.
    pub fn not_after(&self) -> i64 {
        self.current.read().unwrap_or_else(PoisonError::into_inner).not_after
    }

    fn read_anew(&self) -> Result<(), TlsFilesError> {
        let read = read(&self.files, &self.provider)?;
        *self.current.write().unwrap_or_else(PoisonError::into_inner) = read;
        Ok(())
    }
}

impl ResolvesServerCert for Tls {
    /// The same for every name: the service has one.
    fn resolve(&self, _: ClientHello<'_>) -> Option<Arc<CertifiedKey>> {
        Some(Arc::clone(&self.current.read().unwrap_or_else(PoisonError::into_inner).certified))
    }
}

fn read(files: &Files, provider: &CryptoProvider) -> Result<Read, TlsFilesError> {
    certified(&files.certificate, &files.key, provider).map_err(|reason| TlsFilesError {
        certificate: files.certificate.clone(),
        key: files.key.clone(),
        reason,
    })
}

fn certified(certificate: &Path, key: &Path, provider: &CryptoProvider) -> Result<Read, anyhow::Error> {
    let of_certificate = "the certificate is not a chain in PEM";
    let text = std::fs::read(certificate).context("the certificate cannot be read")?;
    let chain: Vec<CertificateDer<'static>> =
        CertificateDer::pem_slice_iter(&text).collect::<Result<_, _>>().context(of_certificate)?;
    let own = Certificate::from_der(chain.first().context(of_certificate)?).context("the certificate is not one")?;
    let not_after = own.tbs_certificate().validity().not_after.to_unix_duration().as_secs();
    let text = std::fs::read(key).context("the key cannot be read")?;
    let key = PrivateKeyDer::from_pem_slice(&text).context("the key is not one in PEM")?;
    // This holds the key to the certificate, too.
    let certified = CertifiedKey::from_der(chain, key, provider).context("they cannot be used together")?;
    Ok(Read { certified: Arc::new(certified), not_after: i64::try_from(not_after)? })
}

/// The certificate and its key, read anew on SIGHUP.
pub struct Certificates {
    tls: Arc<Tls>,
    metrics: Data<Metrics>,
}

impl Certificates {
    /// Those of the service.
    pub fn new(tls: Arc<Tls>, metrics: Data<Metrics>) -> Self {
        Self { tls, metrics }
    }
}

impl Reloadable for Certificates {
    fn name(&self) -> &'static str {
        "certificate"
    }

    fn reload(&self) -> Result<String, anyhow::Error> {
        // Connections that are open go on with the one that they began with.
        self.tls.read_anew()?;
        let not_after = self.tls.not_after();
        self.metrics.describe_certificate(not_after);
        Ok(format!("good until {}", jiff::Timestamp::from_second(not_after)?))
    }

    fn count(&self, outcome: ReloadOutcome) {
        self.metrics.count_certificate_reload(outcome);
    }
}
