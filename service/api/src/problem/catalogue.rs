//! The one catalogue of problems: what each means and who does what about it.

use serde::{Serialize, Serializer};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{ObjectBuilder, Schema, Type};
use vat_schemes::refusal::RefusalCode;

use super::entry::{DEVELOPER_LAW, DEVELOPER_SHAPE, Entry, Example, OPERATOR_NOTHING};

macro_rules! catalogue {
    ($($variant:ident => {
        $code:literal, $status:literal, $title:literal,
        meaning: $meaning:literal,
        caller: $caller:literal,
        operator: $operator:expr,
        developer: $developer:expr,
        example: $pointer:expr, $detail:literal $(,)?
    })*) => {
        /// The kind of a problem.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum ProblemCode {
            $(#[doc = $title] $variant,)*
        }

        impl ProblemCode {
            /// Every kind, by status.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// What the catalogue says of it.
            pub const fn entry(self) -> &'static Entry {
                match self {
                    $(Self::$variant => &Entry {
                        code: $code,
                        status: $status,
                        title: $title,
                        meaning: $meaning,
                        caller: $caller,
                        operator: $operator,
                        developer: $developer,
                        example: Example { detail: $detail, pointer: $pointer },
                    },)*
                }
            }
        }
    };
}

catalogue! {
    RequestNotValid => {
        "request_not_valid", 400, "The request is not of the documented shape",
        meaning: "Several things of different kinds are wrong with the shape of the request, or it broke off before its end. Nothing was worked out.",
        caller: "Correct each place that errors names, and send the request again.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: None, "2 places in the request need changing: errors names each, and what to write there.",
    }
    BodyEmpty => {
        "body_empty", 400, "The body is empty",
        meaning: "The request came without the JSON object that it should carry.",
        caller: "Send the figures as a JSON object. A body lost on the way is often a redirection that turned a POST into a GET and back.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some(""), "The body is empty: send a JSON object with at least period and business.",
    }
    BodyNotUtf8 => {
        "body_not_utf8", 400, "The body is not UTF-8",
        meaning: "JSON between systems is written in UTF-8 (RFC 8259); the body holds bytes that are not.",
        caller: "Write the body in UTF-8. Bytes for £ or accented letters from an older encoding are the usual cause.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some(""), "The body is not UTF-8 from byte 41 on: write it in UTF-8.",
    }
    JsonNotValid => {
        "json_not_valid", 400, "The body is not JSON",
        meaning: "The body cannot be read as JSON (RFC 8259): a bracket, comma or quotation mark is missing or out of place.",
        caller: "Make the body with a JSON library rather than by joining texts; the line and column show where reading stopped.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some(""), "The body is not JSON: reading stopped at line 3, column 17. Look there for a missing comma, bracket or quotation mark.",
    }
    TrailingData => {
        "trailing_data", 400, "Something follows the JSON object",
        meaning: "The body holds a whole JSON value and then more.",
        caller: "Send one JSON object and nothing after it; several periods are several requests.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some(""), "The JSON value ends, and something follows at line 9, column 2: send one object and nothing after it.",
    }
    NestingTooDeep => {
        "nesting_too_deep", 400, "The JSON is nested too deeply",
        meaning: "Objects and lists stand inside one another more than 8 deep; no request needs that.",
        caller: "Send the documented shape.",
        operator: "Nothing for one of them. Many from one place are an attempt to exhaust the service: block it at the gateway.",
        developer: DEVELOPER_SHAPE,
        example: Some(""), "Objects and lists stand more than 8 deep inside one another: no request of this service needs that.",
    }
    DuplicateField => {
        "duplicate_field", 400, "A field stands twice",
        meaning: "An object gives one field more than once, so that its value is in doubt.",
        caller: "Give each field once. Several totals of one kind are several lines.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/net"), "net stands more than once in this object: give it once.",
    }
    UnknownField => {
        "unknown_field", 400, "A field is not known",
        meaning: "The request holds a field that the API document does not name. It might have been meant to change the answer, so it is not passed over.",
        caller: "Correct the name, or leave the field out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/nett"), "There is no field nett here; did you mean net? Known are treatment, nature, net, vat, gross and part.",
    }
    MissingField => {
        "missing_field", 400, "A field is missing",
        meaning: "A field without which nothing can be worked out is not there.",
        caller: "Add the field.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/business/registered_on"), "registered_on is missing: give the effective date of registration for VAT, for example \"2019-02-01\".",
    }
    NullNotAllowed => {
        "null_not_allowed", 400, "null stands for a value",
        meaning: "A field is given as null. This service does not guess whether that means nothing, zero or unknown.",
        caller: "Leave the field out, or give its value.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/vat"), "vat is null: leave it out, or give its value.",
    }
    WrongType => {
        "wrong_type", 400, "A value is of another type",
        meaning: "A value is a text, number, list or object where another of these belongs.",
        caller: "Give the value as the API document shows it.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales"), "sales must be a list, and this is an object.",
    }
    AmountMustBeString => {
        "amount_must_be_string", 400, "An amount is a JSON number",
        meaning: "Amounts are texts, as programs change numbers with decimals into the nearest binary fraction and lose pence without a word.",
        caller: "Put the amount in quotation marks, with its pence.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/net"), "An amount is a text, not a number, so that no penny is lost on the way. Write \"1234.50\" in quotes.",
    }
    AmountNotValid => {
        "amount_not_valid", 400, "An amount is not written as one",
        meaning: "An amount is pounds with at most two decimals: digits, one point, a minus sign in front if negative, and nothing else.",
        caller: "Write the amount as the detail shows.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/net"), "Write thousands without separators: \"1000\".",
    }
    PercentageMustBeString => {
        "percentage_must_be_string", 400, "A percentage is a JSON number",
        meaning: "Percentages are texts, for the reason that amounts are.",
        caller: "Put the percentage in quotation marks.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/purchases/0/business_use_percentage"), "A percentage is a text, not a number. Write \"62.5\" in quotes.",
    }
    PercentageNotValid => {
        "percentage_not_valid", 400, "A percentage is not written as one",
        meaning: "A percentage is in per cent, from 0 to 100, with at most two decimals and no sign.",
        caller: "Write the percentage as the detail shows.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/purchases/0/business_use_percentage"), "Leave out the per cent sign: write \"40\".",
    }
    NumberNotValid => {
        "number_not_valid", 400, "A whole number is out of its bounds, or has decimals",
        meaning: "A count or a measure, which is a JSON number, is no whole number within the bounds that the API document shows.",
        caller: "Give a whole number within the bounds, without quotation marks.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/adjustments/fuel_scale_charges/0/co2_emissions"), "co2_emissions must be a whole number from 1 to 1000, without decimals.",
    }
    DateNotValid => {
        "date_not_valid", 400, "A date is not written as one, or there is no such day",
        meaning: "A date is year, month and day as in 2026-06-30 (RFC 3339), and the calendar has that day.",
        caller: "Write the date as the detail shows.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/period/end"), "There is no 30 February 2026: that month has 28 days.",
    }
    DateOutOfRange => {
        "date_out_of_range", 400, "A date is outside the years of VAT",
        meaning: "Dates run from 1 April 1973, when VAT began, to 31 December 2099.",
        caller: "Check the year.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/business/registered_on"), "1926-02-01 is outside the dates that this service takes: 1973-04-01 to 2099-12-31.",
    }
    TextNotValid => {
        "text_not_valid", 400, "A text is too long, empty or holds control characters",
        meaning: "A free text keeps neither its bounds nor to printable characters.",
        caller: "Shorten the text, or take the control characters out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/reference"), "reference has 70 characters: give 1 to 64.",
    }
    UnknownValue => {
        "unknown_value", 400, "A word is not one of those allowed",
        meaning: "The field takes one of a list of words, and this is none of them.",
        caller: "Take a word from the list in the detail.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0/treatment"), "\"standard\" is not one of the words for treatment; did you mean \"standard_rated\"? Allowed are \"standard_rated\", \"reduced_rated\", \"hospitality_rated\", \"zero_rated\", \"exempt\", \"domestic_reverse_charge\", \"outside_scope\" and \"non_business\".",
    }
    TooManyLines => {
        "too_many_lines", 400, "There are too many lines",
        meaning: "A list has more items than it may: sales and purchases take 5000 lines each.",
        caller: "Send totals: lines of the same kind may be added up before they are sent, save capital goods, of which each purchase is its own line.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/purchases"), "purchases has 6200 lines: at most 5000 are taken. Add up lines of the same kind.",
    }
    IdentifierNotValid => {
        "identifier_not_valid", 400, "An identifier is not written as one",
        meaning: "Identifiers are 1 to 100 lower-case letters and digits, with single hyphens between them.",
        caller: "Take the identifier from GET /v1/sectors.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/business/sector"), "\"Management consultancy\" is not an identifier: write lower-case letters and digits joined by hyphens, for example \"management-consultancy\". GET /v1/sectors lists them.",
    }
    QueryNotValid => {
        "query_not_valid", 400, "The query is not valid",
        meaning: "The part of the address after the question mark holds a parameter that this resource does not take, one that stands twice, or a value that cannot be used.",
        caller: "Take the parameter out or correct it.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("?date"), "This resource takes no query parameter date. It takes on and q.",
    }
    AmountMissing => {
        "amount_missing", 400, "A line has no amount",
        meaning: "A line of sales or purchases gives none of net, vat and gross.",
        caller: "Give one, two or three of net, vat and gross, or leave the line out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/sales/0"), "This line has no amount: give one, two or three of net, vat and gross.",
    }
    FieldsExcludeEachOther => {
        "fields_exclude_each_other", 400, "Two fields exclude each other",
        meaning: "Two fields are given that say the same thing in two ways. Which of them is meant is not guessed.",
        caller: "Leave one of the two out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_SHAPE,
        example: Some("/turnover"), "turnover and sales are both given, and they say the same thing: give flat rate turnover as one figure, or sales as lines.",
    }
    KeyMissing => {
        "key_missing", 401, "The request comes without a key",
        meaning: "Whoever runs the service asks callers for a key, and the header Authorization is not there or of another scheme than Bearer. Nothing was read.",
        caller: "Send the key that you were given as Authorization: Bearer and the key.",
        operator: "See whether a proxy takes the header away. new-key makes a key for a new caller.",
        developer: "Nothing: who needs a key is a setting, keys_file.",
        example: None, "The request comes without a key: send yours in the header Authorization, as \"Bearer\", a space and the key.",
    }
    KeyUnknown => {
        "key_unknown", 401, "The service does not know the key",
        meaning: "The key that came with the request is none of those in the keys file. Nothing was read.",
        caller: "See that the key is whole; if it is, ask whoever runs the service for a new one.",
        operator: "See that the caller's entry is in the keys file and that the file was read after it was written: SIGHUP has it read, and the log says so.",
        developer: "Nothing, unless a key of the file is refused.",
        example: None, "The service does not know this key: use the one that you were given, or ask whoever runs the service for a new one.",
    }
    NotFound => {
        "not_found", 404, "There is nothing at this address",
        meaning: "No resource has this path, or no category, parameter or problem has this id.",
        caller: "Check the path against the API document, and the id against the list that it comes from.",
        operator: "Nothing for single ones. Many at once are a client of another version, or someone probing.",
        developer: "Nothing, unless the API document names the path.",
        example: None, "There is no sector \"management-consulting\"; did you mean \"management-consultancy\"? GET /v1/sectors lists them.",
    }
    MethodNotAllowed => {
        "method_not_allowed", 405, "The resource does not take this method",
        meaning: "The path is known, but not with this method; the Allow header lists those that it takes.",
        caller: "Use a method that Allow lists.",
        operator: "Nothing for single ones. A redirection that turns POST into GET shows itself this way.",
        developer: "Nothing, unless the API document names the method.",
        example: None, "/v1/comparisons does not take GET: it takes POST, OPTIONS.",
    }
    NotAcceptable => {
        "not_acceptable", 406, "No form of the answer suits the Accept header",
        meaning: "The Accept header allows none of the media types that the resource answers with.",
        caller: "Accept application/json, or leave the header out.",
        operator: OPERATOR_NOTHING,
        developer: "Nothing, unless the API document names the media type.",
        example: None, "This resource answers with application/json, which the Accept header does not allow.",
    }
    RequestTimeout => {
        "request_timeout", 408, "The body took too long to arrive",
        meaning: "The request's body was not there in full within the time that body_timeout_seconds allows.",
        caller: "Send the body without pausing; try again on a better connection.",
        operator: "See whether a proxy before the service holds bodies back, or whether clients far away need a longer body_timeout_seconds.",
        developer: "Nothing, unless bodies that arrive in time are refused.",
        example: None, "The body was not there in full within 10 s: send it without pausing.",
    }
    BodyTooLarge => {
        "body_too_large", 413, "The body is too large",
        meaning: "The request's body has more bytes than max_body_bytes allows.",
        caller: "Send totals instead of single invoices, and one period a request.",
        operator: "If honest requests are that large, raise max_body_bytes and the memory that goes with it.",
        developer: "Nothing, unless the size is counted wrongly.",
        example: None, "The body may have 1048576 bytes, and this one has more: send totals, and one period a request.",
    }
    MediaTypeNotSupported => {
        "media_type_not_supported", 415, "The body is of another media type",
        meaning: "The body is not declared as application/json in UTF-8 and without compression.",
        caller: "Send Content-Type: application/json, without Content-Encoding.",
        operator: OPERATOR_NOTHING,
        developer: "Nothing, unless the API document names the media type.",
        example: None, "The body is declared as text/csv: send JSON with Content-Type: application/json.",
    }
    FiguresNotAccepted => {
        "figures_not_accepted", 422, "The figures admit no answer",
        meaning: "The request has the documented shape, but several things of different kinds stand against an answer.",
        caller: "Correct each place that errors names, and send the request again.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: None, "2 places in the request need changing: errors names each, and what to write there.",
    }
    PeriodEndBeforeStart => {
        "period_end_before_start", 422, "A period ends before it starts",
        meaning: "The last day of a period, or of a part of it, comes before its first.",
        caller: "Put the dates in order; a period of one day has the same day twice.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/period/end"), "The period ends on 2026-03-31, before it starts on 2026-04-01: put the dates in order.",
    }
    PeriodTooEarly => {
        "period_too_early", 422, "The period starts before the tables of law begin",
        meaning: "Periods are worked out from the one that starts on 4 January 2011 or later, the day from which the current table of flat rate percentages applies.",
        caller: "Ask for a later period; earlier ones need the law of their time.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/period/start"), "The period starts on 2010-10-01: the earliest start is 2011-01-04.",
    }
    PeriodBeforeRegistration => {
        "period_before_registration", 422, "The period starts before the business was registered",
        meaning: "A VAT period cannot start before the effective date of registration.",
        caller: "Let the first period start on the effective date of registration, or correct registered_on.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/period/start"), "The period starts on 2026-04-01, before registration on 2026-05-01.",
    }
    FlatRateBeforeRegistration => {
        "flat_rate_before_registration", 422, "The Flat Rate Scheme starts before registration",
        meaning: "Only a registered business uses the scheme.",
        caller: "Correct flat_rate_from or registered_on.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/business/flat_rate_from"), "The scheme starts on 2019-01-01, before registration on 2019-02-01.",
    }
    SchemeOutsidePeriod => {
        "scheme_outside_period", 422, "No day of the period is in the Flat Rate Scheme",
        meaning: "The scheme starts after the period's last day, or ends before its first, so that there is nothing to work out for it.",
        caller: "Ask for a period with a day in the scheme, or leave flat_rate_from or flat_rate_until out to see the period as if all of it were in the scheme.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/business/flat_rate_from"), "The scheme starts on 2026-07-15, so no day of the period from 2026-04-01 to 2026-06-30 is in it.",
    }
    UnknownSector => {
        "unknown_sector", 422, "There is no such category of business",
        meaning: "The flat rate percentage depends on the category of business, and none has this id.",
        caller: "Find the category with GET /v1/sectors?q= and words of the trade. The choice is the business's own.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/business/sector"), "No category of business has the id \"management-consulting\". Near it is \"management-consultancy\"; GET /v1/sectors lists all.",
    }
    SectorChangesOutOfOrder => {
        "sector_changes_out_of_order", 422, "Changes of category are not in the order of their days",
        meaning: "A change of the category of business does not come after the one before it in the list.",
        caller: "Give sector_changes in the order of their days, one a day.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/business/sector_changes/1"), "The change on 2026-04-20 does not come after the one before it. Give changes in the order of their days.",
    }
    PeriodMustBeSplit => {
        "period_must_be_split", 422, "Totals must say which part of the period they belong to",
        meaning: "The percentage applied changes inside the period, or the scheme covers only some of its days, and a total does not say on which side it belongs.",
        caller: "Give each line named a part, cut at the dates in the detail; or set split_estimate to by_days and accept an estimate.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0"), "The percentage changes on 2026-05-10: split this total into parts from 2026-04-01 to 2026-05-09 and from 2026-05-10 to 2026-06-30.",
    }
    PartOutsidePeriod => {
        "part_outside_period", 422, "A part lies outside the period",
        meaning: "A line names days that the period does not have.",
        caller: "Let each part lie within the period.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/part"), "The part from 2026-03-01 to 2026-04-30 lies partly outside the period from 2026-04-01 to 2026-06-30.",
    }
    PartSpansChange => {
        "part_spans_change", 422, "A part runs across a change of percentage",
        meaning: "A line's part has days on both sides of a day on which the percentage applied changes.",
        caller: "Cut the line at the date in the detail.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/part"), "The percentage changes on 2026-05-10, inside this part: cut the line there.",
    }
    AmountsDoNotAddUp => {
        "amounts_do_not_add_up", 422, "Net and VAT do not add up to gross",
        meaning: "A line gives all three amounts, and they contradict one another.",
        caller: "Correct the wrong one, or leave one out and have it worked out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0"), "Net and VAT make 1200.00, and gross says 1250.00: correct one of them, or leave one out.",
    }
    VatNotChargeable => {
        "vat_not_chargeable", 422, "VAT stands on something that carries none",
        meaning: "A line gives VAT, but its treatment carries no VAT.",
        caller: "Correct the treatment, or leave the VAT out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/vat"), "Exempt sales carry no VAT: correct the treatment, or leave vat out.",
    }
    VatAloneNotEnough => {
        "vat_alone_not_enough", 422, "The VAT alone does not tell the other amounts",
        meaning: "A line gives only VAT of nothing, or VAT at a rate of nothing, so that net and gross cannot be worked out.",
        caller: "Give net or gross as well.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/vat"), "From VAT at the zero rate no net amount follows: give net or gross.",
    }
    RateNotInForce => {
        "rate_not_in_force", 422, "The rate named was not in force",
        meaning: "A line names a rate of VAT that did not apply on its dates; the temporary rate for hospitality applied from 15 July 2020 to 31 March 2022.",
        caller: "Choose the treatment that applied on the line's dates.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/treatment"), "The temporary hospitality rate applied from 2020-07-15 to 2022-03-31, not on the dates of this line.",
    }
    RateChangesInsideLine => {
        "rate_changes_inside_line", 422, "A rate of VAT changed within the line's dates",
        meaning: "A single amount is to be completed at a rate that changed within the dates of the line.",
        caller: "Cut the line at the date in the detail with part, or give two of net, vat and gross.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0"), "The rate changed on 2021-10-01, within this line: give two of net, vat and gross, or cut the line there.",
    }
    PostponedImportTooEarly => {
        "postponed_import_too_early", 422, "A postponed import comes too early for a flat rate user",
        meaning: "Until periods starting on 1 June 2022 a flat rate user put the value of such imports into turnover. That is not worked out here.",
        caller: "Leave the import out and deal with it by hand, or ask for a later period.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/purchases/0/supply"), "Postponed imports are worked out in periods that start on or after 2022-06-01.",
    }
    NorthernIrelandTooEarly => {
        "northern_ireland_too_early", 422, "Goods between Northern Ireland and the European Union come too early",
        meaning: "Such goods have rules of their own only from 1 January 2021. Trade with the European Union before that day is not worked out here.",
        caller: "Check the period, or deal with the goods by hand.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/purchases/0/supply"), "Such goods have rules of their own from 2021-01-01; this period ends on 2020-12-31.",
    }
    PartialExemptionPercentageUnknown => {
        "partial_exemption_percentage_unknown", 422, "No recoverable percentage can be formed",
        meaning: "There is input tax for both taxable and exempt supplies, and no supplies in the period from which the recoverable percentage could be formed.",
        caller: "Give the percentage of the year before as previous_year_percentage, say of each purchase whether it is for taxable or for exempt supplies, or ask for a period with sales.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales"), "There is input tax used for both kinds of supplies, and no supplies to share it out by.",
    }
    AmountTooLarge => {
        "amount_too_large", 422, "The amounts are too large for an exact sum",
        meaning: "Sums are exact, and these would have more digits than an exact sum can keep.",
        caller: "Check the amounts for misplaced digits.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some(""), "The amounts add up to more than can be worked out exactly: check them for misplaced digits.",
    }
    PercentageAtSupplyNotUsed => {
        "percentage_at_supply_not_used", 422, "A percentage at the time of supply stands where none is used",
        meaning: "Only the cash turnover method charges receipts at the percentage of the time of supply; with the basic and the retailer's method the percentage of the period applies.",
        caller: "Leave percentage_at_supply out, or correct turnover_method.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/sales/0/percentage_at_supply"), "Only the cash turnover method uses the percentage at the time of supply. Leave it out, or set turnover_method to cash.",
    }
    PercentageAtSupplyNeeded => {
        "percentage_at_supply_needed", 422, "The percentage at the time of supply is needed",
        meaning: "With the cash turnover method relief for a bad debt is the VAT charged less the flat rate amount at the percentage in force when the supply was made.",
        caller: "Give percentage_at_supply for the debt.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/bad_debts/0/percentage_at_supply"), "With the cash turnover method relief is the VAT charged less the flat rate amount. Give the percentage that was in force when the supply was made.",
    }
    BadDebtTooEarly => {
        "bad_debt_too_early", 422, "Relief for a debt is claimed too early",
        meaning: "A debt must have been unpaid for six months from the later of the supply and the day on which payment was due before relief is claimed (VAT Regulations 1995 regulation 165A).",
        caller: "Claim the relief in the period of the day in the detail, or a later one.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/bad_debts/0/supplied_on"), "The debt counts from 2026-03-02, so relief may be claimed from 2026-09-02, after the period ends on 2026-06-30. Claim it in the period of that day or a later one.",
    }
    BadDebtTooLate => {
        "bad_debt_too_late", 422, "Relief for a debt is claimed too late",
        meaning: "Relief is claimed within four years and six months of the later of the supply and the day on which payment was due (VAT Regulations 1995 regulation 165A).",
        caller: "Leave the debt out: its relief is lost.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/bad_debts/0/supplied_on"), "The debt counts from 2021-03-02, so relief could be claimed until 2025-09-02, before the period starts. It cannot be claimed now.",
    }
    NotTheFirstReturn => {
        "not_the_first_return", 422, "VAT from before registration stands on a later return",
        meaning: "VAT on purchases before registration is claimed on the first return, which starts on the effective date of registration (VAT Regulations 1995 regulation 111).",
        caller: "Give the purchases with the first period, or leave them out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/pre_registration/0"), "VAT from before registration is claimed on the first return, which starts on 2026-02-01; this period starts on 2026-04-01. Put it in the first period, or leave it out.",
    }
    DatesOutOfOrder => {
        "dates_out_of_order", 422, "A day does not come where it must",
        meaning: "A day comes before or after another in a way that cannot be: a purchase before registration that was not before it, an error of a period that is not earlier, a supply before registration that is said to carry VAT, or leaving the scheme before joining it.",
        caller: "Correct the day that the detail names.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/errors/0/period_end"), "The error's period ends on 2026-04-30, but an earlier period ends before this one starts on 2026-04-01. Correct the figures of this period instead.",
    }
    MonthsOutOfOrder => {
        "months_out_of_order", 422, "Months do not follow one another",
        meaning: "Twelve months are added up at every month end, so that none may be left out, given twice or out of order.",
        caller: "Give each month once, in order and without a gap. A month without business is one that gives no figures.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/turnover/months/1/month"), "2026-03 does not follow on 2026-01: give each month once, in order and without a gap; a month without business is one with no figures.",
    }
    ActualMonthInFuture => {
        "actual_month_in_future", 422, "A month to come is called actual",
        meaning: "A month that begins after as_of, the day from which past and future are seen, cannot have figures from the books.",
        caller: "Call its figures a forecast, or correct as_of.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/turnover/months/3/basis"), "2026-07 begins after 2026-06-30, the day from which past and future are seen, so its figures cannot be actual: call them a forecast, or correct as_of.",
    }
    AmountNegative => {
        "amount_negative", 422, "An amount is negative where it cannot be",
        meaning: "A debt, a payment, VAT from before registration, goods on hand and what is expected of an activity are nought or more.",
        caller: "Give the amount without a minus sign, or leave it out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/bad_debts/0/vat"), "The VAT on a debt is nought or more. Give it without a minus sign.",
    }
    AmountNotPositive => {
        "amount_not_positive", 422, "An amount is nothing where there must be one",
        meaning: "A debt, a payment, a price or an amount that others are a part of is 0.00, so there is nothing to adjust.",
        caller: "Give the amount, or leave the entry out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/relief_repaid/0/outstanding_at_claim"), "What was outstanding at the claim is nothing, so there is nothing to adjust. Give the amount, or leave the entry out.",
    }
    PartMoreThanWhole => {
        "part_more_than_whole", 422, "A part of an amount is more than the whole",
        meaning: "VAT, relief or a payment is more than the price or the debt that it is a part of.",
        caller: "Correct the amount that the detail names, or the whole that it is measured against.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/unpaid_purchases/0/paid"), "What was paid is 1200.01, more than the price of the purchase, 1200.00. Correct one of the two.",
    }
    BelongsToAnotherPeriod => {
        "belongs_to_another_period", 422, "An entry belongs to the return of another period",
        meaning: "What is repaid or restored stands on the return of the period in which a day falls: the day of a payment, the end of the six months, the last day in the scheme. That day is not in this period.",
        caller: "Give the entry with the period of the day in the detail.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/unpaid_purchases/0/supplied_on"), "The six months end on 2026-07-01, so the entry belongs to the period of that day, and this one is from 2026-04-01 to 2026-06-30. Give it with that period.",
    }
    NoTurnoverExpected => {
        "no_turnover_expected", 422, "No turnover is expected from any activity",
        meaning: "Shares of expected turnover cannot be formed where none is expected.",
        caller: "Give the turnover expected of each activity in the coming year, with VAT, or leave activities out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/business/activities/0/expected_turnover"), "No turnover is expected from any activity, so there are no shares to show. Give the turnover expected in the coming year, with VAT.",
    }
    RoundingNotForRetailers => {
        "rounding_not_for_retailers", 422, "Retailers may not round VAT in this way",
        meaning: "Rounding down is a concession to those who charge VAT on top of a price. A retailer's customer has paid the VAT fraction of the price, so each calculation goes up and down to the nearest penny (Notice 700 paragraph 17.6).",
        caller: "Choose line_nearest_penny or invoice_total_nearest_penny. Where prices are really set without VAT, give issued_by as invoice_trader.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/rounding"), "A retailer may not round VAT down. Each calculation goes to the nearest penny: choose \"line_nearest_penny\" or \"invoice_total_nearest_penny\".",
    }
    NetAndGrossMixed => {
        "net_and_gross_mixed", 422, "Prices with VAT stand beside prices without it",
        meaning: "The VAT of a document is rounded once for the whole, and that needs all its prices of one kind.",
        caller: "Give the prices of all lines that carry VAT as gross, or all as net or unit_price. Zero-rated and exempt lines fit both.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/lines/1"), "The price of this line is with VAT, that of line 1 is without VAT. One document states its prices in one way: give all with VAT, or all without.",
    }
    PriceNeedsShelfPrices => {
        "price_needs_shelf_prices", 422, "One price cannot be shared out",
        meaning: "One price for several supplies is shared out by the prices with VAT at which each is sold alone (VATA 1994 section 19(4); VATVAL03800), and they are not there.",
        caller: "Give each line's price alone as gross, at least one of them above nought, or leave price out.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/lines/0"), "One price stands for all lines and is shared out by what each costs alone. Give that price, with VAT, as gross.",
    }
    PaymentMoreThanInvoice => {
        "payment_more_than_invoice", 422, "More was paid than the invoice comes to",
        meaning: "A payment is apportioned over the lines of one invoice, and it is more than that invoice.",
        caller: "Give what was received on this invoice alone. Part payments go to the earliest invoice first.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/payment"), "The payment is 500.00, and the invoice comes to 480.00 with VAT. Give what was received on this invoice alone.",
    }
    LongerPeriodTooLong => {
        "longer_period_too_long", 422, "The partial exemption year has more than twelve months",
        meaning: "A longer period for partial exemption is a tax year of twelve months, or a shorter one at the beginning or the end of a registration.",
        caller: "Give the tax year that ends on 31 March, 30 April or 31 May by itself, and a shorter first longer period by itself.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/year/end"), "The year from 2025-04-01 ends on 2026-06-30, after 2026-03-31: a longer period is twelve months at most. A first one, from registration to the day before the first full tax year, is given by itself.",
    }
    PeriodsDoNotMakeUpYear => {
        "periods_do_not_make_up_year", 422, "The periods do not make up the year",
        meaning: "The VAT periods of a partial exemption year leave a gap, overlap, or begin or end on other days than the year.",
        caller: "Give every VAT period of the year once, in order, from the first day of the year to its last.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/periods/1/period/start"), "This period starts on 2025-08-01, but 2025-07-01 is the day on which it must: periods follow one another from the first day of the year, without a gap and without a day twice.",
    }
    ReceivedBesideOtherMethod => {
        "received_beside_other_method", 422, "Money received stands beside a turnover method other than basic",
        meaning: "received is the second basis of a period whose sales and purchases are invoices. With the cash and the retailer's turnover method sales and purchases are money already.",
        caller: "Leave received out; or give invoices as sales and purchases, and turnover_method basic.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/received"), "received gives the period by money beside its invoices, but turnover_method is cash: leave received out, or give invoices as sales and purchases with the basic method.",
    }
    FuelScaleLengthNotInTable => {
        "fuel_scale_length_not_in_table", 422, "There is no road fuel scale charge for a period of this length",
        meaning: "Scale charges are for periods of one, three and twelve months. No part of one is worked out.",
        caller: "Leave fuel_scale_charges out, and claim the business part of the fuel with business_use_percentage.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/fuel_scale_charges"), "The period is 2 months. There are scale charges for one, three and twelve months only, and no part of one is worked out. Leave the charges out and claim the business part of the fuel.",
    }
    FuelScaleInPartOfPeriod => {
        "fuel_scale_in_part_of_period", 422, "Road fuel scale charges stand beside a period that is only partly in the Flat Rate Scheme",
        meaning: "A scale charge is for a whole period of standard accounting, and a flat rate user owes none. What is due where a period is divided between them cannot be told.",
        caller: "Leave fuel_scale_charges out, or compare a period that lies wholly in the scheme.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/adjustments/fuel_scale_charges"), "The period is only partly in the Flat Rate Scheme. Scale charges are for whole periods, and a flat rate user owes none, so what is due for the other days cannot be told. Leave the charges out and claim the business part of the fuel, or compare a period that lies wholly in the scheme.",
    }
    WindowTooLong => {
        "window_too_long", 422, "Dates are asked for over too long a time",
        meaning: "A window of dates is shorter than five years: what lies further ahead is not sure enough for a diary.",
        caller: "Ask for less, or for several windows apart.",
        operator: OPERATOR_NOTHING, developer: DEVELOPER_LAW,
        example: Some("/until"), "The window from 2026-04-01 to 2031-04-01 is longer than 5 years. End it before 2031-04-01, and ask for the rest apart.",
    }
    DateOutsideLaw => {
        "date_outside_law", 422, "The tables of law hold nothing for this date",
        meaning: "A number of the law is needed for a day for which the tables have none. It is never replaced by a guess.",
        caller: "Ask for a day within the tables; GET /v1/parameters/{id}, /v1/sectors/{id} and /v1/fuel-scale-charges show the days of each.",
        operator: OPERATOR_NOTHING,
        developer: "If the law has a value for that day, add it to the tables with its authority.",
        example: Some("?on"), "The tables of law hold nothing for 2009-06-30: they begin on 2011-01-04.",
    }
    HeadTooLarge => {
        "head_too_large", 431, "The request's line and headers are too large",
        meaning: "The request's line and headers have more bytes than max_head_bytes allows.",
        caller: "Send fewer or shorter headers: cookies are of no use here.",
        operator: "See whether a proxy before the service adds headers without end; if honest heads are that large, raise max_head_bytes.",
        developer: "Nothing, unless the size is counted wrongly.",
        example: None, "The request's line and headers may have 16384 bytes, and these have more: send fewer or shorter headers.",
    }
    RateLimited => {
        "rate_limited", 429, "The caller asks more often than it may",
        meaning: "The caller that the key names has sent as many requests as key_requests_per_minute and key_burst allow. Nothing was read.",
        caller: "Send the request again after the seconds that Retry-After names. Many comparisons at once go into one request to /v1/comparisons/batch.",
        operator: "See in the log whose key it is; if that much is agreed, raise key_requests_per_minute or key_burst. Each replica counts for itself.",
        developer: "Nothing, unless Retry-After names too short a time.",
        example: None, "This caller has asked as often as it may for now: send the request again after 3 s.",
    }
    InternalError => {
        "internal_error", 500, "The service failed",
        meaning: "The service has a fault: the request is not to blame.",
        caller: "Send the request again; if it fails again, report the request id.",
        operator: "Look in the log for the request id and the panic beside it; report both. vat_schemes_panics_total counts them.",
        developer: "Reproduce it with a test, then correct it.",
        example: None, "The service failed to answer. The request may be sent again; if it fails again, report the request id.",
    }
    Overloaded => {
        "overloaded", 503, "The service is answering as many requests as it takes at once",
        meaning: "As many requests are under way as max_concurrent_requests allows, and this one was turned away before it was read.",
        caller: "Send the request again after the seconds that Retry-After names; it is always safe to send again.",
        operator: "Run more replicas, or raise max_concurrent_requests where the machine is idle. See whether callers hold batches open.",
        developer: "Nothing, unless requests that ended still count.",
        example: None, "512 requests are being answered, as many as are at once: send this one again after a second.",
    }
}

impl ProblemCode {
    /// The word that stands for it, for ever.
    pub const fn as_str(self) -> &'static str {
        self.entry().code
    }

    /// The kind that a word stands for.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|code| code.as_str() == word)
    }

    /// The address at which its meaning is to be read.
    pub fn address(self) -> String {
        format!("/v1/problems/{}", self.as_str())
    }
}

impl Serialize for ProblemCode {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

impl utoipa::PartialSchema for ProblemCode {
    fn schema() -> RefOr<Schema> {
        ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some(
                "The word for a kind of problem. More may come: treat an unknown one by its HTTP status.",
            ))
            .max_length(Some(64))
            .pattern(Some("^[a-z0-9_]+$"))
            .examples([ProblemCode::AmountMustBeString.as_str()])
            .extensions(Some(
                utoipa::openapi::extensions::ExtensionsBuilder::new()
                    .add("x-extensible-enum", Self::ALL.iter().map(|code| code.as_str()).collect::<Vec<_>>())
                    .build(),
            ))
            .into()
    }
}

impl utoipa::ToSchema for ProblemCode {}

impl From<RefusalCode> for ProblemCode {
    fn from(code: RefusalCode) -> Self {
        match code {
            RefusalCode::PeriodEndBeforeStart => Self::PeriodEndBeforeStart,
            RefusalCode::PeriodTooEarly => Self::PeriodTooEarly,
            RefusalCode::PeriodBeforeRegistration => Self::PeriodBeforeRegistration,
            RefusalCode::FlatRateBeforeRegistration => Self::FlatRateBeforeRegistration,
            RefusalCode::SchemeOutsidePeriod => Self::SchemeOutsidePeriod,
            RefusalCode::UnknownSector => Self::UnknownSector,
            RefusalCode::SectorChangesOutOfOrder => Self::SectorChangesOutOfOrder,
            RefusalCode::PeriodMustBeSplit => Self::PeriodMustBeSplit,
            RefusalCode::PartOutsidePeriod => Self::PartOutsidePeriod,
            RefusalCode::PartSpansChange => Self::PartSpansChange,
            RefusalCode::AmountsDoNotAddUp => Self::AmountsDoNotAddUp,
            RefusalCode::VatNotChargeable => Self::VatNotChargeable,
            RefusalCode::VatAloneNotEnough => Self::VatAloneNotEnough,
            RefusalCode::RateNotInForce => Self::RateNotInForce,
            RefusalCode::RateChangesInsideLine => Self::RateChangesInsideLine,
            RefusalCode::PostponedImportTooEarly => Self::PostponedImportTooEarly,
            RefusalCode::NorthernIrelandTooEarly => Self::NorthernIrelandTooEarly,
            RefusalCode::PartialExemptionPercentageUnknown => Self::PartialExemptionPercentageUnknown,
            RefusalCode::AmountTooLarge => Self::AmountTooLarge,
            RefusalCode::PercentageAtSupplyNotUsed => Self::PercentageAtSupplyNotUsed,
            RefusalCode::PercentageAtSupplyNeeded => Self::PercentageAtSupplyNeeded,
            RefusalCode::BadDebtTooEarly => Self::BadDebtTooEarly,
            RefusalCode::BadDebtTooLate => Self::BadDebtTooLate,
            RefusalCode::NotTheFirstReturn => Self::NotTheFirstReturn,
            RefusalCode::DatesOutOfOrder => Self::DatesOutOfOrder,
            RefusalCode::MonthsOutOfOrder => Self::MonthsOutOfOrder,
            RefusalCode::ActualMonthInFuture => Self::ActualMonthInFuture,
            RefusalCode::AmountNegative => Self::AmountNegative,
            RefusalCode::AmountNotPositive => Self::AmountNotPositive,
            RefusalCode::PartMoreThanWhole => Self::PartMoreThanWhole,
            RefusalCode::BelongsToAnotherPeriod => Self::BelongsToAnotherPeriod,
            RefusalCode::RoundingNotForRetailers => Self::RoundingNotForRetailers,
            RefusalCode::NetAndGrossMixed => Self::NetAndGrossMixed,
            RefusalCode::PriceNeedsShelfPrices => Self::PriceNeedsShelfPrices,
            RefusalCode::PaymentMoreThanInvoice => Self::PaymentMoreThanInvoice,
            RefusalCode::NoTurnoverExpected => Self::NoTurnoverExpected,
            RefusalCode::FuelScaleLengthNotInTable => Self::FuelScaleLengthNotInTable,
            RefusalCode::FuelScaleInPartOfPeriod => Self::FuelScaleInPartOfPeriod,
            RefusalCode::WindowTooLong => Self::WindowTooLong,
            RefusalCode::LongerPeriodTooLong => Self::LongerPeriodTooLong,
            RefusalCode::PeriodsDoNotMakeUpYear => Self::PeriodsDoNotMakeUpYear,
            RefusalCode::DateOutsideLaw => Self::DateOutsideLaw,
        }
    }
}
