//! Certificates made for a test, and a client that trusts only them.

use crate::raw::{RawAnswer, parse};
use rustls::crypto::ring::default_provider;
use rustls::pki_types::{CertificateDer, ServerName};
use rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned, SupportedProtocolVersion};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::Arc;
use std::time::Duration;

/// How long to wait for an answer that should come at once: only a fault reaches it.
const PATIENCE: Duration = Duration::from_secs(60);

/// A certificate for `localhost` and its key.
pub struct Pair {
    /// The certificate, in PEM.
    pub certificate: String,
    /// The key, in PEM.
    pub key: String,
    der: CertificateDer<'static>,
}

impl Pair {
    /// A new one, good until the beginning of this year.
    pub fn good_until(year: i32) -> Pair {
        let mut parameters = rcgen::CertificateParams::new(vec!["localhost".to_owned()]).expect("parameters");
        parameters.not_after = rcgen::date_time_ymd(year, 1, 1);
        let key = rcgen::KeyPair::generate().expect("a key");
        let certificate = parameters.self_signed(&key).expect("a certificate");
        Pair { certificate: certificate.pem(), key: key.serialize_pem(), der: certificate.der().clone() }
    }

    /// Connects to a server that shows this certificate; an error, at the first byte at the latest, where it shows another, or speaks none
    /// of these versions.
    pub fn open(
        &self,
        address: SocketAddr,
        versions: &[&'static SupportedProtocolVersion],
    ) -> std::io::Result<StreamOwned<ClientConnection, TcpStream>> {
        let mut roots = RootCertStore::empty();
        roots.add(self.der.clone()).map_err(std::io::Error::other)?;
        let config = ClientConfig::builder_with_provider(Arc::new(default_provider()))
            .with_protocol_versions(versions)
            .map_err(std::io::Error::other)?
            .with_root_certificates(roots)
            .with_no_client_auth();
        let name = ServerName::try_from("localhost").map_err(std::io::Error::other)?;
        let client = ClientConnection::new(Arc::new(config), name).map_err(std::io::Error::other)?;
        let stream = TcpStream::connect(address)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_write_timeout(Some(PATIENCE))?;
        Ok(StreamOwned::new(client, stream))
    }

    /// Asks such a server for one answer, to the end of the connection.
    pub fn ask(
        &self,
        address: SocketAddr,
        versions: &[&'static SupportedProtocolVersion],
        request: &str,
    ) -> std::io::Result<Option<RawAnswer>> {
        let mut stream = self.open(address, versions)?;
        stream.write_all(request.as_bytes())?;
        stream.flush()?;
        let mut bytes = Vec::new();
        match stream.read_to_end(&mut bytes) {
            Ok(_) => {}
            // The other end may close without a word once its answer is whole.
            Err(error) if error.kind() == std::io::ErrorKind::UnexpectedEof && !bytes.is_empty() => {}
            Err(error) => return Err(error),
        }
        Ok(parse(&bytes, true))
    }
}
