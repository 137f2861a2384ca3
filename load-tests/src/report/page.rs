//! A report as a page that needs nothing from outside.

use std::fmt::Write as _;

use super::bounds;
use crate::histogram::Summary;
use crate::run::{PhaseResult, Report, Requests};

/// The size of a histogram, in pixels.
const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 90.0;

const STYLE: &str = "body{font:15px/1.5 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#1b1b1b}\
table{border-collapse:collapse;margin:.5rem 0}td,th{padding:.2rem .8rem .2rem 0;text-align:right;border-bottom:1px solid #ddd}\
td:first-child,th:first-child{text-align:left}.holds{color:#176117}.fails{color:#a40000;font-weight:bold}\
rect{fill:#2b5d8a}text{font-size:11px;fill:#444}";

/// The page.
pub fn page(report: &Report) -> String {
    let mut page = String::with_capacity(16 * 1024);
    let title = escaped(&report.title);
    // Writing to a String cannot fail.
    let _ = write!(
        page,
        "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>{title}</title><style>{STYLE}</style></head><body>\
         <h1>{title}</h1><p>{}</p><p>{}, {} cores, kernel {}, load before the run {}. The generator shared the machine. \
         {} workers, {} connections; a rate of 1 is {:.0} requests a second.</p>",
        escaped(&report.says),
        escaped(&report.machine.processor),
        report.machine.cores,
        escaped(&report.machine.kernel),
        escaped(&report.machine.load),
        report.workers,
        report.connections,
        report.capacity
    );
    page.push_str("<h2>Thresholds</h2><table><tr><th>what must hold</th><th>ratio</th><th>bound</th><th></th></tr>");
    for held in &report.thresholds {
        let (class, word) = if held.holds { ("holds", "holds") } else { ("fails", "fails") };
        let _ = write!(
            page,
            "<tr><td>{}</td><td>{:.3}</td><td>{}</td><td class=\"{class}\">{word}</td></tr>",
            escaped(&held.says),
            held.ratio,
            bounds(held.at_most, held.at_least)
        );
    }
    page.push_str("</table>");
    for phase in &report.phases {
        push_phase(&mut page, phase);
    }
    page.push_str("</body></html>\n");
    page
}

fn push_phase(page: &mut String, phase: &PhaseResult) {
    let _ = write!(page, "<h2>{}</h2><p>", escaped(&phase.name));
    if let Some([from, to]) = phase.per_second {
        let _ = write!(page, "{from:.0} to {to:.0} requests a second. ");
    }
    let _ = write!(
        page,
        "{:.1} s, of which the service used {:.2} s of processor; resident {} KiB, at most {} KiB.</p>",
        phase.took_seconds, phase.cpu_seconds, phase.memory.resident, phase.memory.peak
    );
    if let Some(batch) = &phase.batch {
        let _ = write!(
            page,
            "<p>{} lines, {} answered; {:.1} microseconds of processor a line, {:.2} cores; {:.1} MB in, {:.1} MB out.</p>",
            batch.lines,
            batch.answered,
            batch.cpu_microseconds,
            batch.cores,
            megabytes(batch.bytes_sent),
            megabytes(batch.bytes_returned)
        );
    }
    let Some(all) = &phase.all else { return };
    page.push_str(
        "<table><tr><th>requests</th><th>sent</th><th>as expected</th><th>other status</th><th>failed</th><th>p50</th><th>p90</th>\
         <th>p99</th><th>p99.9</th><th>longest</th></tr>",
    );
    for requests in phase.requests.iter().chain([all]) {
        push_row(page, requests);
    }
    page.push_str("</table><p>Latency from when each request was due, in microseconds:</p>");
    push_histogram(page, &all.latency);
    if let Some(late) = &phase.generator_late {
        let _ = write!(page, "<p>The generator was late itself: p50 {}, p99 {} microseconds.</p>", late.p50, late.p99);
    }
}

fn push_row(page: &mut String, requests: &Requests) {
    let Requests { name, offered, answered, unexpected, failed, latency } = requests;
    let _ = write!(
        page,
        "<tr><td>{}</td><td>{offered}</td><td>{answered}</td><td>{unexpected}</td><td>{failed}</td><td>{}</td><td>{}</td><td>{}</td>\
         <td>{}</td><td>{}</td></tr>",
        escaped(name),
        latency.p50,
        latency.p90,
        latency.p99,
        latency.p999,
        latency.longest
    );
}

/// Classes on a scale that grows by a quarter from one to the next.
#[expect(clippy::cast_precision_loss, reason = "pixels")]
fn push_histogram(page: &mut String, latency: &Summary) {
    let first = latency.classes.iter().position(|class| class.count > 0).unwrap_or_default();
    let classes = latency.classes.get(first..).unwrap_or_default();
    let most = classes.iter().map(|class| class.count).max().unwrap_or_default().max(1) as f64;
    let width = WIDTH / classes.len().max(1) as f64;
    let _ = write!(page, "<svg width=\"{WIDTH}\" height=\"{}\" role=\"img\" aria-label=\"histogram\">", HEIGHT + 16.0);
    for (position, class) in classes.iter().enumerate() {
        // The root, so that rare and long ones are seen at all.
        let height = (class.count as f64 / most).sqrt() * HEIGHT;
        let left = position as f64 * width;
        let _ = write!(
            page,
            "<rect x=\"{left:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{height:.1}\"><title>up to {}: {}</title></rect>",
            HEIGHT - height,
            (width - 1.0).max(1.0),
            class.at_most,
            class.count
        );
        if position % 6 == 0 {
            let _ = write!(page, "<text x=\"{left:.1}\" y=\"{}\">{}</text>", HEIGHT + 13.0, class.at_most);
        }
    }
    page.push_str("</svg>");
}

#[expect(clippy::cast_precision_loss, reason = "for people")]
fn megabytes(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
