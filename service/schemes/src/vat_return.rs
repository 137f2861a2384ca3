//! The nine boxes of the VAT Return, from what each scheme puts into them.

use crate::answer::Boxes;
use crate::law::rule as cite;
use crate::money::{Money, Overflow, Rounding, WholePounds};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

/// What a scheme puts into the boxes.
pub(crate) struct Contents {
    pub scope: Scope,
    pub box1: Vec<Traced<Money>>,
    pub box2: Vec<Traced<Money>>,
    pub box4: Traced<Money>,
    pub box6: Vec<Traced<Money>>,
    pub box7: Vec<Traced<Money>>,
    pub box8: Vec<Traced<Money>>,
    pub box9: Vec<Traced<Money>>,
    pub box6_rule: &'static Rule,
    pub box7_rule: &'static Rule,
}

/// The return, and the figures that the comparison is made from.
pub(crate) struct Return {
    pub boxes: Boxes,
    pub output_tax: Traced<Money>,
    pub vat_payable: Traced<Money>,
    pub box6: Traced<WholePounds>,
}

static BOX_1: Rule = Rule {
    says: "Box 1 is the VAT due on sales and other outputs, with reverse charge VAT and postponed import VAT.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_39, cite::NOTICE_700_12],
};
static BOX_2: Rule = Rule {
    says: "Box 2 is the VAT due on goods acquired into Northern Ireland from the European Union.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_39, cite::NOTICE_700_12],
};
static BOX_3: Rule = Rule {
    says: "Box 3 is box 1 and box 2 together.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_39, cite::NOTICE_700_12],
};
static BOX_5: Rule = Rule {
    says: "Box 5 is the difference of boxes 3 and 4, without a sign.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_39, cite::NOTICE_700_12],
};
static BOX_8: Rule = Rule {
    says: "Box 8 is the value without VAT of goods supplied from Northern Ireland to the European Union, with the costs of sending them, pence cut \
           off; it stands in box 6 too.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_WHOLE_POUNDS],
};
static BOX_9: Rule = Rule {
    says: "Box 9 is the value of goods acquired into Northern Ireland from the European Union, pence cut off.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_WHOLE_POUNDS],
};
static PAYABLE: Rule = Rule {
    says: "What is payable is the output tax less the tax reclaimed; a negative amount is repaid.",
    authority: &[cite::VATA_1994_SECTION_25],
};

/// Fills the nine boxes.
pub(crate) fn fill(run: &mut Run<'_>, contents: Contents) -> Result<Return, Overflow> {
    let Contents { scope, box1, box2, box4, box6, box7, box8, box9, box6_rule, box7_rule } = contents;
    let name = |id, label, rule| Name::new(scope, id, label, rule);
    let box1 =
        run.total(name("box1", "Box 1: VAT due on sales and other outputs", &BOX_1).gives(&["boxes/box1"]), &box1)?;
    let box2 = run.total(name("box2", "Box 2: VAT due on acquisitions", &BOX_2).gives(&["boxes/box2"]), &box2)?;
    // Only standard accounting has a figure of its own for output tax.
    let total: &'static [&'static str] =
        if scope == Scope::Standard { &["boxes/box3", "output_tax"] } else { &["boxes/box3"] };
    let box3 = run.total(name("box3", "Box 3: total VAT due", &BOX_3).gives(total), &[box1, box2])?;
    // The scheme has already worked out box 4 and named it as a figure of the answer.
    let vat_payable =
        run.difference(name("vat_payable", "VAT payable", &PAYABLE).gives(&["vat_payable"]), box3, box4)?;
    let box5 = run.step(
        name("box5", "Box 5: net VAT to pay or reclaim", &BOX_5).gives(&["boxes/box5"]),
        vat_payable.value.magnitude(),
        Rounding::None,
        "abs({} − {})",
        &[box3.operand(), box4.operand()],
    );
    let box6 = run.whole_pounds(
        name("box6", "Box 6: value of sales and other outputs", box6_rule).gives(&["boxes/box6"]),
        &box6,
    )?;
    let box7 = run.whole_pounds(
        name("box7", "Box 7: value of purchases and other inputs", box7_rule).gives(&["boxes/box7"]),
        &box7,
    )?;
    let box8 =
        run.whole_pounds(name("box8", "Box 8: goods supplied to the EU", &BOX_8).gives(&["boxes/box8"]), &box8)?;
    let box9 =
        run.whole_pounds(name("box9", "Box 9: goods acquired from the EU", &BOX_9).gives(&["boxes/box9"]), &box9)?;
    let boxes = Boxes {
        box1: box1.value,
        box2: box2.value,
        box3: box3.value,
        box4: box4.value,
        box5: box5.value,
        box6: box6.value,
        box7: box7.value,
        box8: box8.value,
        box9: box9.value,
    };
    Ok(Return { boxes, output_tax: box3, vat_payable, box6 })
}
