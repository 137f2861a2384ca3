use super::{Command, Environment, SETTINGS, Settings};

fn read(arguments: &[&str], environment: &[(&str, &str)]) -> Result<Command, String> {
    let line = std::iter::once("vat-schemes-api").chain(arguments.iter().copied()).map(Into::into);
    let environment: Environment =
        environment.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
    Command::read(line, &environment).map_err(|error| error.to_string())
}

fn settings(arguments: &[&str], environment: &[(&str, &str)]) -> Settings {
    match read(arguments, environment) {
        Ok(Command::Serve(settings)) => settings,
        other => panic!("{other:?}"),
    }
}

fn refusal(arguments: &[&str], environment: &[(&str, &str)]) -> String {
    read(arguments, environment).expect_err("refused")
}

/// A settings file that goes when the test is done with it.
struct File(std::path::PathBuf);

impl File {
    fn to_str(&self) -> Option<&str> {
        self.0.to_str()
    }
}

impl Drop for File {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

fn file(name: &str, text: &str) -> File {
    let path = std::env::temp_dir().join(format!("vat-schemes-settings-{}-{name}.toml", std::process::id()));
    std::fs::write(&path, text).expect("written");
    File(path)
}

#[test]
fn nothing_given_is_enough() {
    let settings = settings(&[], &[]);
    assert_eq!(settings.listen.to_string(), "127.0.0.1:8080");
    assert_eq!(settings.management_listen.to_string(), "127.0.0.1:8081");
    assert_eq!(settings.max_body_bytes, 1024 * 1024);
    assert_eq!(settings.shutdown_timeout_seconds, 30);
    assert_eq!(settings.log, "info");
    assert!(settings.workers >= 1);
}

#[test]
fn a_flag_goes_before_the_environment_and_that_before_the_file() {
    let file = file("order", "drain_seconds = 1\nbody_timeout_seconds = 1\nshutdown_timeout_seconds = 1\n");
    let path = file.to_str().expect("text");
    let settings = settings(
        &["--config", path, "--drain-seconds", "3"],
        &[("VAT_SCHEMES_DRAIN_SECONDS", "2"), ("VAT_SCHEMES_BODY_TIMEOUT_SECONDS", "2")],
    );
    assert_eq!((settings.drain_seconds, settings.body_timeout_seconds, settings.shutdown_timeout_seconds), (3, 2, 1));
}

#[test]
fn the_environment_may_name_the_file() {
    let path = file("named", "listen = \"[::1]:9000\"\n");
    let settings = settings(&[], &[("VAT_SCHEMES_CONFIG", path.to_str().expect("text"))]);
    assert_eq!(settings.listen.to_string(), "[::1]:9000");
}

#[test]
fn unknown_names_are_refused_with_the_nearest() {
    assert!(refusal(&["--lisen", "127.0.0.1:1"], &[]).contains("--lisen"));
    let variable = refusal(&[], &[("VAT_SCHEMES_LISTN", "127.0.0.1:1")]);
    assert!(variable.contains("VAT_SCHEMES_LISTN") && variable.contains("did you mean VAT_SCHEMES_LISTEN?"));
    let path = file("unknown", "max_body_byte = 1\n");
    let key = refusal(&["--config", path.to_str().expect("text")], &[]);
    assert!(key.contains("max_body_byte in") && key.contains("did you mean max_body_bytes?"), "{key}");
}

#[test]
fn variables_of_others_are_left_alone() {
    assert_eq!(settings(&[], &[("VAT_RATE", "20"), ("PATH", "/bin")]).log, "info");
}

#[test]
fn a_cluster_s_own_variables_are_explained() {
    assert!(refusal(&[], &[("VAT_SCHEMES_SERVICE_HOST", "10.0.0.1")]).contains("enableServiceLinks: false"));
}

#[test]
fn every_bad_value_is_named_at_once() {
    let text =
        refusal(&["--listen", "8080", "--workers", "0", "--max-body-bytes", "1k"], &[("VAT_SCHEMES_LOG", "a=b=c")]);
    for part in ["--listen: \"8080\"", "--workers: \"0\"", "--max-body-bytes: \"1k\"", "VAT_SCHEMES_LOG: \"a=b=c\""] {
        assert!(text.contains(part), "{part} in {text}");
    }
}

#[test]
fn a_missing_file_and_a_file_of_something_else_are_refused() {
    assert!(refusal(&["--config", "/no/such/file.toml"], &[]).contains("/no/such/file.toml"));
    let path = file("broken", "listen = ");
    assert!(refusal(&["--config", path.to_str().expect("text")], &[]).contains("is not TOML"));
    let path = file("kind", "listen = true\n");
    assert!(refusal(&["--config", path.to_str().expect("text")], &[]).contains("listen in"));
}

#[test]
fn both_ports_the_same_is_refused() {
    assert!(refusal(&["--listen", "127.0.0.1:9", "--management-listen", "127.0.0.1:9"], &[]).contains("another port"));
}

#[test]
fn what_check_config_prints_can_be_read_back() {
    let first = settings(&["--log", "info,[{name=\"a b\"}]=debug", "--workers", "3"], &[]);
    let path = file("printed", &first.to_toml());
    let second = settings(&["--config", path.to_str().expect("text")], &[]);
    assert_eq!(first, second);
}

#[test]
fn the_table_names_each_setting_one_way() {
    for setting in SETTINGS {
        assert_eq!(setting.variable, format!("VAT_SCHEMES_{}", setting.key.to_uppercase()));
        assert_eq!(setting.flag, setting.key.replace('_', "-"));
    }
}

#[test]
fn help_lists_every_flag_and_variable() {
    let Ok(Command::Print(help)) = read(&["--help"], &[]) else { panic!("no help") };
    for setting in SETTINGS {
        assert!(help.contains(&format!("--{} ", setting.flag)) && help.contains(setting.variable), "{}", setting.key);
    }
}

#[cfg(not(feature = "otlp"))]
#[test]
fn a_build_without_spans_says_so_when_they_are_asked_for() {
    let text = refusal(&["--otlp-endpoint", "http://127.0.0.1:4318"], &[]);
    assert!(text.contains("otlp_endpoint") && text.contains("--features otlp"), "{text}");
}

#[cfg(feature = "otlp")]
#[test]
fn a_collector_is_named_by_a_plain_address() {
    for (given, kept) in [
        ("http://127.0.0.1:4318", "http://127.0.0.1:4318"),
        ("http://collector.monitoring:4318/", "http://collector.monitoring:4318"),
        ("http://[::1]:4318/tenants/a", "http://[::1]:4318/tenants/a"),
    ] {
        assert_eq!(settings(&["--otlp-endpoint", given], &[]).otlp_endpoint.as_deref(), Some(kept));
    }
    for given in
        ["127.0.0.1:4318", "https://collector.example", "http://a:4318/?b", "http://user@a:4318", "http://", "grpc://a"]
    {
        let text = refusal(&["--otlp-endpoint", given], &[]);
        assert!(text.contains("--otlp-endpoint") && text.contains("http://127.0.0.1:4318"), "{text}");
    }
    assert_eq!(settings(&["--otlp-endpoint", ""], &[]).otlp_endpoint, None);
}

#[test]
fn a_share_of_spans_goes_with_a_collector() {
    assert!(refusal(&["--otlp-sample-percentage", "10"], &[]).contains("goes with otlp_endpoint"));
    assert!(refusal(&["--otlp-sample-percentage", "101"], &[]).contains("0 to 100"));
}
