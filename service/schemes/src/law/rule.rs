//! The ids of the authorities that rules cite, so that a rule cannot cite one that is not there: the tables are refused
//! when one of these is missing from them.

macro_rules! citations {
    ($($name:ident = $id:literal;)+) => {
        $(
            #[doc = concat!("The id `", $id, "`.")]
            pub const $name: &str = $id;
        )+

        /// Every id that a rule may cite.
        pub const ALL: &[&str] = &[$($name),+];
    };
}

citations! {
    VATA_1994_SECTION_2 = "vata-1994-section-2";
    VATA_1994_SECTION_8 = "vata-1994-section-8";
    VATA_1994_SECTION_19 = "vata-1994-section-19";
    VATA_1994_SECTION_24 = "vata-1994-section-24";
    VATA_1994_SECTION_25 = "vata-1994-section-25";
    VATA_1994_SECTION_26 = "vata-1994-section-26";
    VATA_1994_SECTION_26B = "vata-1994-section-26b";
    VATA_1994_SECTION_29A = "vata-1994-section-29a";
    VATA_1994_SECTION_30 = "vata-1994-section-30";
    VATA_1994_SCHEDULE_1 = "vata-1994-schedule-1";
    VATA_1994_SCHEDULE_4_PARAGRAPH_8 = "vata-1994-schedule-4-paragraph-8";
    VAT_REGULATIONS_1995_REGULATION_29 = "vat-regulations-1995-regulation-29";
    VAT_REGULATIONS_1995_REGULATION_34 = "vat-regulations-1995-regulation-34";
    VAT_REGULATIONS_1995_REGULATION_39 = "vat-regulations-1995-regulation-39";
    VAT_REGULATIONS_1995_REGULATION_55A = "vat-regulations-1995-regulation-55a";
    VAT_REGULATIONS_1995_REGULATION_55B = "vat-regulations-1995-regulation-55b";
    VAT_REGULATIONS_1995_REGULATION_55C = "vat-regulations-1995-regulation-55c";
    VAT_REGULATIONS_1995_REGULATION_55D = "vat-regulations-1995-regulation-55d";
    VAT_REGULATIONS_1995_REGULATION_55E = "vat-regulations-1995-regulation-55e";
    VAT_REGULATIONS_1995_REGULATION_55G = "vat-regulations-1995-regulation-55g";
    VAT_REGULATIONS_1995_REGULATION_55H = "vat-regulations-1995-regulation-55h";
    VAT_REGULATIONS_1995_REGULATION_55JB = "vat-regulations-1995-regulation-55jb";
    VAT_REGULATIONS_1995_REGULATION_55K = "vat-regulations-1995-regulation-55k";
    VAT_REGULATIONS_1995_REGULATION_55KA = "vat-regulations-1995-regulation-55ka";
    VAT_REGULATIONS_1995_REGULATION_55L = "vat-regulations-1995-regulation-55l";
    VAT_REGULATIONS_1995_REGULATION_55M = "vat-regulations-1995-regulation-55m";
    VAT_REGULATIONS_1995_REGULATION_55N = "vat-regulations-1995-regulation-55n";
    VAT_REGULATIONS_1995_REGULATION_55Q = "vat-regulations-1995-regulation-55q";
    VAT_REGULATIONS_1995_REGULATION_55U = "vat-regulations-1995-regulation-55u";
    VAT_REGULATIONS_1995_REGULATION_55V = "vat-regulations-1995-regulation-55v";
    VAT_REGULATIONS_1995_REGULATION_57 = "vat-regulations-1995-regulation-57";
    VAT_REGULATIONS_1995_REGULATION_57A = "vat-regulations-1995-regulation-57a";
    VAT_REGULATIONS_1995_REGULATION_69A = "vat-regulations-1995-regulation-69a";
    VAT_REGULATIONS_1995_REGULATION_99 = "vat-regulations-1995-regulation-99";
    VAT_REGULATIONS_1995_REGULATION_101 = "vat-regulations-1995-regulation-101";
    VAT_REGULATIONS_1995_REGULATION_103 = "vat-regulations-1995-regulation-103";
    VAT_REGULATIONS_1995_REGULATION_105A = "vat-regulations-1995-regulation-105a";
    VAT_REGULATIONS_1995_REGULATION_106 = "vat-regulations-1995-regulation-106";
    VAT_REGULATIONS_1995_REGULATION_106ZA = "vat-regulations-1995-regulation-106za";
    VAT_REGULATIONS_1995_REGULATION_107 = "vat-regulations-1995-regulation-107";
    VAT_REGULATIONS_1995_REGULATION_107B = "vat-regulations-1995-regulation-107b";
    VAT_REGULATIONS_1995_REGULATION_107E = "vat-regulations-1995-regulation-107e";
    SI_2017_295_REGULATION_1 = "si-2017-295-regulation-1";
    SI_2017_295_REGULATION_3 = "si-2017-295-regulation-3";
    SI_2003_3220 = "si-2003-3220";
    SI_2005_762 = "si-2005-762";
    INPUT_TAX_ORDER_1992_ARTICLE_5 = "input-tax-order-1992-article-5";
    INPUT_TAX_ORDER_1992_ARTICLE_7 = "input-tax-order-1992-article-7";
    NOTICE_733 = "notice-733";
    NOTICE_733_SECTION_4 = "notice-733-section-4";
    NOTICE_733_SECTION_6 = "notice-733-section-6";
    NOTICE_733_SECTION_15 = "notice-733-section-15";
    NOTICE_700_SECTION_17 = "notice-700-section-17";
    NOTICE_700_12 = "notice-700-12";
    NOTICE_706_SECTION_11 = "notice-706-section-11";
    NOTICE_741A_SECTION_5 = "notice-741a-section-5";
    BRIEF_2022_3 = "brief-2022-3";
    FRS3100 = "frs3100";
    FRS4400 = "frs4400";
    FRS6500 = "frs6500";
    FRS7100 = "frs7100";
    FRS7200 = "frs7200";
    FRS7300 = "frs7300";
    VATREVCON31000 = "vatrevcon31000";
    VATREVCON35100 = "vatrevcon35100";
    VIT13100 = "vit13100";
    VIT31000 = "vit31000";
    VIT41600 = "vit41600";
    VIT52100 = "vit52100";
    VIT55400 = "vit55400";
    VATREC12030 = "vatrec12030";
    PE24500 = "pe24500";
    PE37200 = "pe37200";
    PE37600 = "pe37600";
    BIM31585 = "bim31585";
    IMPORT_VAT_ON_THE_RETURN = "import-vat-on-the-return";
    NOTICE_700_22 = "notice-700-22";
    RECORDS_WITH_FORCE_OF_LAW_FLAT_RATE = "records-with-force-of-law-flat-rate";
    COMMON_PRACTICE = "common-practice";
    DECISION_CAPITAL_GOODS_AT_LIMIT = "decision-capital-goods-at-limit";
    DECISION_LENGTH_OF_PERIOD = "decision-length-of-period";
    DECISION_FIRST_YEAR_AND_LIMITED_COST = "decision-first-year-and-limited-cost";
    DECISION_CASH_TURNOVER = "decision-cash-turnover";
    DECISION_OVERSEAS_SERVICES = "decision-overseas-services";
    DECISION_POSTPONED_IMPORTS = "decision-postponed-imports";
    DECISION_WHOLE_POUNDS = "decision-whole-pounds";
    DECISION_ROUNDING = "decision-rounding";
    DECISION_EARLIEST_PERIOD = "decision-earliest-period";
    DECISION_PARTIAL_EXEMPTION_LONGER_PERIOD = "decision-partial-exemption-longer-period";
    DECISION_PARTIAL_EXEMPTION_FRACTION = "decision-partial-exemption-fraction";
    DECISION_CATEGORY_IS_THE_USERS = "decision-category-is-the-users";
    DECISION_EXEMPT_INCOME = "decision-exempt-income";
    DECISION_CUTS = "decision-cuts";
    DECISION_GOODS_FOR_MAIN_ACTIVITY = "decision-goods-for-main-activity";
    DECISION_HOSPITALITY_TREATMENT = "decision-hospitality-treatment";
    DECISION_COMPLETING_A_LINE = "decision-completing-a-line";
    DECISION_REVERSE_CHARGE_GOODS = "decision-reverse-charge-goods";
    DECISION_PRIVATE_USE_GOODS = "decision-private-use-goods";
    DECISION_MOTOR_TRADE_GOODS = "decision-motor-trade-goods";
    DECISION_CAPITAL_ASSET_SALES = "decision-capital-asset-sales";
    DECISION_REVERSE_CHARGE_ATTRIBUTION = "decision-reverse-charge-attribution";
    DECISION_ANNIVERSARY_29_FEBRUARY = "decision-anniversary-29-february";
    DECISION_ROUNDING_TOLERANCE = "decision-rounding-tolerance";
    VATA_1994_SECTION_36 = "vata-1994-section-36";
    VAT_REGULATIONS_1995_REGULATION_55F = "vat-regulations-1995-regulation-55f";
    VAT_REGULATIONS_1995_REGULATION_55R = "vat-regulations-1995-regulation-55r";
    VAT_REGULATIONS_1995_REGULATION_55S = "vat-regulations-1995-regulation-55s";
    VAT_REGULATIONS_1995_REGULATION_111 = "vat-regulations-1995-regulation-111";
    VAT_REGULATIONS_1995_REGULATION_165A = "vat-regulations-1995-regulation-165a";
    NOTICE_733_SECTION_14 = "notice-733-section-14";
    VR7420 = "vr7420";
    FRS6600 = "frs6600";
    DECISION_ERRORS_AT_LIMIT = "decision-errors-at-limit";
    DECISION_STOCK_ON_LEAVING = "decision-stock-on-leaving";
    NOTICE_700_45 = "notice-700-45";
}
