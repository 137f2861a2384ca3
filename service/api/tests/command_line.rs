//! The program as it is started: settings and what comes back for them.

use std::path::Path;
use std::process::{Command, Output};

fn run(arguments: &[&str], environment: &[(&str, &str)]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_vat-schemes-api"));
    command.args(arguments);
    for (name, _) in std::env::vars().filter(|(name, _)| name.starts_with("VAT_SCHEMES_")) {
        command.env_remove(name);
    }
    for (name, value) in environment {
        command.env(name, value);
    }
    command.output().expect("the program runs")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

#[test]
fn good_settings_are_printed_and_can_be_read_back() {
    let output = run(&["--check-config", "--listen", "127.0.0.1:0"], &[("VAT_SCHEMES_DRAIN_SECONDS", "5")]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let printed = text(&output.stdout);
    assert!(printed.contains("listen = \"127.0.0.1:0\"\n") && printed.contains("drain_seconds = 5\n"), "{printed}");
    let path =
        Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("vat-schemes-check-config-{}.toml", std::process::id()));
    std::fs::write(&path, &printed).expect("written");
    let again = run(&["--check-config", "--config", path.to_str().expect("text")], &[]);
    assert_eq!(text(&again.stdout), printed);
}

#[test]
fn bad_settings_end_with_78_and_a_message_that_names_them() {
    for (arguments, environment, named) in [
        (&["--check-config", "--listen", "nowhere"][..], &[][..], "--listen"),
        (&["--check-config"], &[("VAT_SCHEMES_WORKERS", "many")], "VAT_SCHEMES_WORKERS"),
        (&["--check-config"], &[("VAT_SCHEMES_LISTN", "127.0.0.1:1")], "did you mean VAT_SCHEMES_LISTEN?"),
        (&["--check-config", "--config", "/no/such/file"], &[], "/no/such/file"),
        (&["--unheard-of"], &[], "--unheard-of"),
        (&["unheard-of"], &[], "unheard-of"),
    ] {
        let output = run(arguments, environment);
        assert_eq!(output.status.code(), Some(78), "{named}");
        assert!(output.stdout.is_empty());
        let message = text(&output.stderr);
        assert!(message.contains(named), "{message}");
    }
}

#[test]
fn an_address_in_use_ends_with_a_message_that_says_so() {
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = taken.local_addr().expect("an address").to_string();
    let output = run(&["--listen", &address, "--management-listen", "127.0.0.1:0"], &[]);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains(&address));
}

#[test]
fn the_document_is_printed_as_it_is_kept() {
    let output = run(&["openapi"], &[]);
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(text(&output.stdout), include_str!("../../../openapi/v1.json"));
}

#[test]
fn what_is_due_for_review_is_listed_for_a_day() {
    let output = run(&["law-review", "2026-11-26"], &[]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let listed = text(&output.stdout);
    assert!(
        listed.contains("as reviewed on 2026-11-26") && listed.contains("nothing follows after 2026-04-30"),
        "{listed}"
    );
    assert!(!listed.contains("vat_rate_standard"), "{listed}");
    // Every row was checked by that day.
    let every = text(&run(&["law-review", "2026-11-26", "--months", "0"], &[]).stdout);
    assert!(every.contains("vat_rate_standard: Standard rate of VAT"), "{every}");
    let json = text(&run(&["law-review", "2026-11-26", "--json"], &[]).stdout);
    assert!(json.starts_with("{\n") && json.contains("\"nothing_follows\""), "{json}");
}

#[test]
fn what_is_due_for_review_is_that_of_the_law_directory() {
    let directory =
        Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("vat-schemes-law-review-{}", std::process::id()));
    std::fs::create_dir_all(&directory).expect("made");
    std::fs::write(directory.join("edition.toml"), "edition = \"ours\"\nchecked_on = \"2026-11-26\"\n")
        .expect("written");
    let path = directory.to_str().expect("text");
    for (arguments, environment) in [
        (&["law-review", "2026-11-26", "--law-directory", path][..], &[][..]),
        (&["law-review", "2026-11-26"], &[("VAT_SCHEMES_LAW_DIRECTORY", path)]),
    ] {
        let output = run(arguments, environment);
        assert!(text(&output.stdout).starts_with("The law tables, edition ours, "), "{}", text(&output.stderr));
    }
    for arguments in [&["law-review"][..], &["law-review", "soon"], &["law-review", "2026-11-26", "--months", "-1"]] {
        let output = run(arguments, &[]);
        assert_eq!((output.status.code(), text(&output.stdout)), (Some(78), String::new()), "{arguments:?}");
    }
    assert_eq!(run(&["law-review", "2026-11-26", "--law-directory", "/no/such"], &[]).status.code(), Some(78));
}

#[test]
fn help_and_version_are_answered() {
    let help = run(&["--help"], &[]);
    assert_eq!(help.status.code(), Some(0));
    assert!(text(&help.stdout).contains("VAT_SCHEMES_MANAGEMENT_LISTEN"));
    assert!(text(&help.stdout).contains("examples"));
    assert!(text(&run(&["examples", "--help"], &[]).stdout).contains("partial_exemption_year_*.json"));
    assert!(text(&run(&["--version"], &[]).stdout).contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn examples_are_written_anew_from_their_requests() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("vat-schemes-examples-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let kept = include_str!("../../../openapi/examples/goods_test_of_totals.json");
    let (right, wrong) = (folder.join("goods_test_right.json"), folder.join("goods_test_wrong.json"));
    std::fs::write(&right, kept).expect("written");
    std::fs::write(&wrong, kept.replace("\"limited_cost_business\": false", "\"limited_cost_business\": true"))
        .expect("written");
    std::fs::write(folder.join("notes.txt"), "no example").expect("written");
    let output = run(&["examples", folder.to_str().expect("text")], &[]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(text(&output.stdout), format!("{}\n", wrong.display()));
    assert_eq!(std::fs::read_to_string(&wrong).expect("read"), kept);
    assert_eq!(run(&["examples", folder.to_str().expect("text")], &[]).stdout, b"");
    std::fs::write(&wrong, kept.replace("9480.00", "9,480")).expect("written");
    let output = run(&["examples", folder.to_str().expect("text")], &[]);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("goods_test_wrong.json") && text(&output.stderr).contains("/turnover"));
    std::fs::remove_dir_all(&folder).expect("removed");
    assert_eq!(run(&["examples"], &[]).status.code(), Some(78));
}
