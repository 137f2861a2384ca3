//! Reads a metrics page in the Prometheus text format.

use std::collections::{BTreeMap, BTreeSet};

/// A page: the kind and labels of each metric, and the value of each sample.
#[derive(Debug, Default)]
pub struct Page {
    /// Kind of each metric (`counter`, `gauge`, `histogram`) by name.
    pub kinds: BTreeMap<String, String>,
    /// Names of metrics that have a help text.
    pub helped: BTreeSet<String>,
    /// Value of each sample, by its name and labels as they are written.
    pub samples: BTreeMap<String, f64>,
}

impl Page {
    /// Reads the text of a page.
    pub fn read(text: &str) -> Result<Page, String> {
        let mut page = Page::default();
        for line in text.lines() {
            if let Some(rest) = line.strip_prefix("# TYPE ") {
                let (name, kind) = rest.split_once(' ').ok_or_else(|| format!("no kind: {line}"))?;
                page.kinds.insert(name.to_owned(), kind.to_owned());
            } else if let Some(rest) = line.strip_prefix("# HELP ") {
                let (name, help) = rest.split_once(' ').ok_or_else(|| format!("no help: {line}"))?;
                if !help.trim().is_empty() {
                    page.helped.insert(name.to_owned());
                }
            } else if !line.is_empty() && !line.starts_with('#') {
                let (name, value) = line.rsplit_once(' ').ok_or_else(|| format!("no value: {line}"))?;
                let value = value.parse().map_err(|_| format!("no number: {line}"))?;
                if page.samples.insert(name.to_owned(), value).is_some() {
                    return Err(format!("twice on the page: {name}"));
                }
            }
        }
        Ok(page)
    }

    /// The value of a sample, written as on the page; nothing when it is not there.
    pub fn value(&self, sample: &str) -> Option<f64> {
        self.samples.get(sample).copied()
    }

    /// One line for each metric: its name, kind and the names of its labels.
    pub fn outline(&self) -> Vec<String> {
        self.kinds
            .iter()
            .map(|(name, kind)| {
                let labels: BTreeSet<String> = self
                    .samples
                    .keys()
                    .filter(|sample| metric_of(sample, name))
                    .flat_map(|sample| label_names(sample))
                    .filter(|label| kind != "histogram" || label != "le")
                    .collect();
                let labels: Vec<String> = labels.into_iter().collect();
                format!("{name} {kind} {{{}}}", labels.join(", "))
            })
            .collect()
    }

    /// The values that a label of a metric takes.
    pub fn label_values(&self, metric: &str, label: &str) -> BTreeSet<String> {
        self.samples
            .keys()
            .filter(|sample| metric_of(sample, metric))
            .flat_map(|sample| labels(sample))
            .filter(|(name, _)| name == label)
            .map(|(_, value)| value)
            .collect()
    }
}

fn metric_of(sample: &str, name: &str) -> bool {
    let of_sample = sample.split('{').next().unwrap_or_default();
    of_sample == name || ["_bucket", "_sum", "_count"].iter().any(|ending| of_sample.strip_suffix(ending) == Some(name))
}

fn label_names(sample: &str) -> Vec<String> {
    labels(sample).into_iter().map(|(name, _)| name).collect()
}

/// Labels and values; the values of this project hold neither quotes nor commas.
fn labels(sample: &str) -> Vec<(String, String)> {
    let Some((_, rest)) = sample.split_once('{') else {
        return Vec::new();
    };
    rest.trim_end_matches('}')
        .split("\",")
        .filter_map(|pair| pair.split_once("=\""))
        .map(|(name, value)| (name.to_owned(), value.trim_end_matches('"').to_owned()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_read_into_kinds_labels_and_values() {
        let page = Page::read(
            "# HELP a_total Things.\n# TYPE a_total counter\na_total{kind=\"x\",way=\"y\"} 2\n# HELP b Time.\n# TYPE b histogram\nb_bucket{le=\"0.1\"} 1\nb_bucket{le=\"+Inf\"} 1\nb_sum 0.05\nb_count 1\n",
        )
        .expect("a page");
        assert_eq!(page.outline(), ["a_total counter {kind, way}", "b histogram {}"]);
        assert_eq!(page.value("a_total{kind=\"x\",way=\"y\"}"), Some(2.0));
        assert_eq!(page.value("a_total"), None);
        assert!(page.label_values("a_total", "kind").contains("x"));
        assert!(page.helped.contains("b"));
        assert!(Page::read("a 1\na 2\n").is_err());
        assert!(Page::read("a one\n").is_err());
    }
}
