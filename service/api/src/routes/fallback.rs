//! Addresses at which there is nothing.

use actix_web::HttpRequest;

use super::Resource;
use crate::near::nearest;
use crate::problem::{Problem, ProblemCode};

/// Nothing is here, but perhaps near.
pub async fn not_found(request: HttpRequest) -> Result<&'static str, Problem> {
    Err(Problem::new(ProblemCode::NotFound, detail(request.path())))
}

fn detail(path: &str) -> String {
    let shown = crate::json::shown(path);
    let without_slashes = path.trim_end_matches('/');
    let known = || Resource::ALL.iter().map(|resource| resource.path()).filter(|path| !path.contains('{'));
    if without_slashes.len() < path.len() && known().any(|known| known == without_slashes) {
        return format!("There is nothing at {shown}: leave out the slash at the end.");
    }
    match nearest(path, known()) {
        Some(near) => {
            format!("There is nothing at {shown}; did you mean {near}? GET /openapi.json lists all resources.")
        }
        None => format!("There is nothing at {shown}. GET /openapi.json lists all resources."),
    }
}

/// No item of a collection has this id.
pub(super) fn no_such_item<'k>(
    kind: &str,
    id: &str,
    known: impl Iterator<Item = &'k str>,
    collection: &str,
) -> Problem {
    let near = nearest(id, known).map_or(".".to_owned(), |near| format!("; did you mean \"{near}\"?"));
    Problem::new(ProblemCode::NotFound, format!("There is no {kind} {}{near} {collection}", crate::json::shown(id)))
}

#[cfg(test)]
mod tests {
    use super::detail;

    #[test]
    fn what_was_meant_is_named() {
        assert!(detail("/v1/sectors/").contains("leave out the slash"));
        assert!(detail("/v1/sector").contains("/v1/sectors"));
        assert!(detail("/nothing/like/it").contains("GET /openapi.json"));
    }
}
