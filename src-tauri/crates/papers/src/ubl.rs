//! Invoices and credit notes for programs: UBL 2.1 (ISO/IEC 19845) as EN 16931-1 and CEN/TS 16931-3-2 use it.
//!
//! Each line is one unit at its net, so that quantity times price is the net exactly; what takes off is minus one unit, because
//! EN 16931 knows no negative prices (BR-27).

use job::bill::{Bill, BillKind, BillLine};
use job::currency::{decimal, decimals};
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

use crate::PaperError;
use crate::say::hundredths;

/// The specification that the file keeps to (BT-24).
const SPECIFICATION: &str = "urn:cen.eu:en16931:2017";
/// EN 16931 knows amounts of two decimals at most (BR-DEC-01 to BR-DEC-28). A dinar has three: such a bill is UBL, and claims no more.
const MOST_DECIMALS: u32 = 2;
const CAC: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2";
const CBC: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2";
/// One (UN/ECE recommendation 20).
const ONE: &str = "C62";
/// Types of document (UNTDID 1001).
const INVOICE: &str = "380";
const PREPAYMENT: &str = "386";
const CREDIT_NOTE: &str = "381";
/// Means of payment (UNTDID 4461): credit transfer.
const TRANSFER: &str = "30";
/// Said where the bill itself gives no reason for no tax.
const NO_TAX: &str = "No tax is charged";

/// The bill as UBL, or nothing for a quote, which EN 16931 does not know.
pub fn ubl(bill: &Bill) -> Result<Option<Vec<u8>>, PaperError> {
    let kind = match bill.kind {
        BillKind::Invoice => INVOICE,
        BillKind::Deposit => PREPAYMENT,
        BillKind::Credit => CREDIT_NOTE,
        BillKind::Quote | BillKind::Newer => return Ok(None),
    };
    let mut xml = Xml {
        out: Writer::new_with_indent(Vec::new(), b' ', 1),
        currency: bill.currency.clone(),
        failed: None,
    };
    xml.put(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)));
    write(&mut xml, bill, kind);
    match xml.failed {
        None => Ok(Some(xml.out.into_inner())),
        Some(why) => Err(PaperError::inside(&why)),
    }
}

fn write(xml: &mut Xml, bill: &Bill, kind: &str) {
    let credit = kind == CREDIT_NOTE;
    let root = if credit { "CreditNote" } else { "Invoice" };
    let name = format!("urn:oasis:names:specification:ubl:schema:xsd:{root}-2");
    let start = BytesStart::new(root).with_attributes([
        ("xmlns", name.as_str()),
        ("xmlns:cac", CAC),
        ("xmlns:cbc", CBC),
    ]);
    xml.put(Event::Start(start));
    if decimals(&bill.currency) <= MOST_DECIMALS {
        xml.text("cbc:CustomizationID", SPECIFICATION);
    }
    xml.text("cbc:ID", or(&bill.number, "draft"));
    xml.text("cbc:IssueDate", &bill.day);
    if !credit {
        xml.some("cbc:DueDate", &bill.due_day);
    }
    xml.text(&format!("cbc:{root}TypeCode"), kind);
    xml.some("cbc:Note", &bill.title);
    xml.text("cbc:DocumentCurrencyCode", &bill.currency);
    for before in &bill.before {
        xml.within("cac:BillingReference", |xml| {
            xml.within("cac:InvoiceDocumentReference", |xml| {
                xml.text("cbc:ID", &before.number);
                xml.some("cbc:IssueDate", &before.day);
            });
        });
    }
    seller(xml, bill);
    buyer(xml, bill);
    if !bill.event_day.is_empty() {
        xml.within("cac:Delivery", |xml| {
            xml.text("cbc:ActualDeliveryDate", &bill.event_day);
        });
    }
    let account = account(&bill.seller.bank);
    if let Some(account) = account.filter(|_| !credit) {
        xml.within("cac:PaymentMeans", |xml| {
            xml.text("cbc:PaymentMeansCode", TRANSFER);
            xml.some("cbc:PaymentID", &bill.number);
            xml.within("cac:PayeeFinancialAccount", |xml| {
                xml.text("cbc:ID", &account);
            });
        });
    }
    let terms = if credit {
        "To be set off, or paid back."
    } else {
        bill.terms.trim()
    };
    if !terms.is_empty() {
        xml.within("cac:PaymentTerms", |xml| xml.text("cbc:Note", terms));
    }
    for whole in bill.wholes.iter().filter(|w| w.cents != 0) {
        xml.within("cac:AllowanceCharge", |xml| {
            xml.text(
                "cbc:ChargeIndicator",
                if whole.cents > 0 { "true" } else { "false" },
            );
            xml.text("cbc:AllowanceChargeReason", or(&whole.label, "Allowance"));
            xml.money("cbc:Amount", whole.cents.saturating_abs());
            category(xml, bill, "cac:TaxCategory", whole.tax_bp, false);
        });
    }
    xml.within("cac:TaxTotal", |xml| {
        xml.money("cbc:TaxAmount", bill.tax_cents);
        for tax in &bill.taxes {
            xml.within("cac:TaxSubtotal", |xml| {
                xml.money("cbc:TaxableAmount", tax.net_cents);
                xml.money("cbc:TaxAmount", tax.tax_cents);
                category(xml, bill, "cac:TaxCategory", tax.tax_bp, true);
            });
        }
    });
    totals(xml, bill);
    let unit = if credit {
        ("cac:CreditNoteLine", "cbc:CreditedQuantity")
    } else {
        ("cac:InvoiceLine", "cbc:InvoicedQuantity")
    };
    for (index, line) in bill.lines.iter().enumerate() {
        xml.within(unit.0, |xml| {
            invoice_line(xml, bill, index + 1, line, unit.1)
        });
    }
    xml.put(Event::End(BytesEnd::new(root)));
}

/// Sums as BR-CO-10 to BR-CO-16 want them.
fn totals(xml: &mut Xml, bill: &Bill) {
    let sum = |cents: &mut dyn Iterator<Item = i64>| cents.fold(0i64, i64::saturating_add);
    let lines = sum(&mut bill.lines.iter().map(|l| l.cents));
    let less = sum(&mut bill.wholes.iter().map(|w| w.cents.min(0).saturating_neg()));
    let more = sum(&mut bill.wholes.iter().map(|w| w.cents.max(0)));
    xml.within("cac:LegalMonetaryTotal", |xml| {
        xml.money("cbc:LineExtensionAmount", lines);
        xml.money("cbc:TaxExclusiveAmount", bill.net_cents);
        xml.money("cbc:TaxInclusiveAmount", bill.gross_cents);
        if less != 0 {
            xml.money("cbc:AllowanceTotalAmount", less);
        }
        if more != 0 {
            xml.money("cbc:ChargeTotalAmount", more);
        }
        xml.money("cbc:PayableAmount", bill.gross_cents);
    });
}

fn invoice_line(xml: &mut Xml, bill: &Bill, number: usize, line: &BillLine, quantity: &str) {
    xml.text("cbc:ID", &number.to_string());
    let units = if line.cents < 0 { "-1" } else { "1" };
    xml.with("unitCode", ONE, quantity, units);
    xml.money("cbc:LineExtensionAmount", line.cents);
    xml.within("cac:Item", |xml| {
        xml.some("cbc:Description", &line.detail);
        xml.text("cbc:Name", or(&line.label, "Item"));
        category(xml, bill, "cac:ClassifiedTaxCategory", line.tax_bp, false);
    });
    xml.within("cac:Price", |xml| {
        xml.money("cbc:PriceAmount", line.cents.saturating_abs());
    });
}

/// Standard rate; without a rate exempt, or outside of tax for who has no tax number (UNTDID 5305).
fn category(xml: &mut Xml, bill: &Bill, name: &str, tax_bp: i64, reason: bool) {
    let letter = if tax_bp != 0 {
        "S"
    } else if bill.seller.tax_number.trim().is_empty() {
        "O"
    } else {
        "E"
    };
    xml.within(name, |xml| {
        xml.text("cbc:ID", letter);
        if letter != "O" {
            xml.text("cbc:Percent", &hundredths(tax_bp));
        }
        if reason && letter != "S" {
            xml.text("cbc:TaxExemptionReason", or(&bill.tax_note, NO_TAX));
        }
        xml.within("cac:TaxScheme", |xml| xml.text("cbc:ID", "VAT"));
    });
}

fn seller(xml: &mut Xml, bill: &Bill) {
    let own = &bill.seller;
    xml.within("cac:AccountingSupplierParty", |xml| {
        xml.within("cac:Party", |xml| {
            // who has no number for value added tax is known by another (BR-CO-26)
            if !has_country(&own.tax_number) {
                let id = or(&own.tax_number, or(&own.name, "-"));
                xml.within("cac:PartyIdentification", |xml| xml.text("cbc:ID", id));
            }
            address(xml, &own.address, &own.country);
            tax_number(xml, &own.tax_number);
            xml.within("cac:PartyLegalEntity", |xml| {
                xml.text("cbc:RegistrationName", or(&own.name, "-"));
            });
            if !own.phone.trim().is_empty() || !own.email.trim().is_empty() {
                xml.within("cac:Contact", |xml| {
                    xml.some("cbc:Telephone", &own.phone);
                    xml.some("cbc:ElectronicMail", &own.email);
                });
            }
        });
    });
}

fn buyer(xml: &mut Xml, bill: &Bill) {
    let buyer = &bill.buyer;
    xml.within("cac:AccountingCustomerParty", |xml| {
        xml.within("cac:Party", |xml| {
            address(xml, &buyer.address, &buyer.country);
            // a bill outside of tax names nobody's number (BR-O-02)
            if has_country(&buyer.tax_number) && !bill.seller.tax_number.trim().is_empty() {
                tax_number(xml, &buyer.tax_number);
            }
            xml.within("cac:PartyLegalEntity", |xml| {
                xml.text("cbc:RegistrationName", or(&buyer.name, "-"));
            });
            if !buyer.email.trim().is_empty() {
                xml.within("cac:Contact", |xml| {
                    xml.text("cbc:ElectronicMail", &buyer.email)
                });
            }
        });
    });
}

/// An address as typed: its lines in order, then the country.
fn address(xml: &mut Xml, lines: &str, country: &str) {
    let mut lines = lines.lines().map(str::trim).filter(|l| !l.is_empty());
    xml.within("cac:PostalAddress", |xml| {
        xml.some("cbc:StreetName", lines.next().unwrap_or_default());
        xml.some("cbc:AdditionalStreetName", lines.next().unwrap_or_default());
        let rest: Vec<&str> = lines.collect();
        if !rest.is_empty() {
            xml.within("cac:AddressLine", |xml| {
                xml.text("cbc:Line", &rest.join(", "))
            });
        }
        xml.within("cac:Country", |xml| {
            xml.text("cbc:IdentificationCode", or(country, "ZZ"));
        });
    });
}

/// A number that begins with a country is one for value added tax (BR-CO-09); another one is the local tax office's.
fn tax_number(xml: &mut Xml, number: &str) {
    let number: String = number.split_whitespace().collect();
    if number.is_empty() {
        return;
    }
    let scheme = if has_country(&number) { "VAT" } else { "TAX" };
    xml.within("cac:PartyTaxScheme", |xml| {
        xml.text("cbc:CompanyID", &number);
        xml.within("cac:TaxScheme", |xml| xml.text("cbc:ID", scheme));
    });
}

fn has_country(number: &str) -> bool {
    let mut letters = number.trim().bytes();
    let two = [letters.next(), letters.next()];
    two.iter()
        .all(|b| b.is_some_and(|b| b.is_ascii_uppercase()))
}

/// The account in what was typed of the bank: the first word group that looks like an IBAN (ISO 13616: two letters, two digits, then
/// letters and digits), without its spaces.
fn account(bank: &str) -> Option<String> {
    bank.split(['\n', ',', ';', ':']).find_map(|part| {
        let whole: String = part.split_whitespace().collect();
        let bytes = whole.as_bytes();
        let letters = bytes.get(..2)?.iter().all(u8::is_ascii_uppercase);
        let digits = bytes.get(2..4)?.iter().all(u8::is_ascii_digit);
        let rest = bytes.iter().all(u8::is_ascii_alphanumeric);
        (letters && digits && rest && (15..=34).contains(&bytes.len())).then_some(whole)
    })
}

fn or<'a>(text: &'a str, otherwise: &'a str) -> &'a str {
    let text = text.trim();
    if text.is_empty() { otherwise } else { text }
}

/// A writer that keeps its first failure for the end.
struct Xml {
    out: Writer<Vec<u8>>,
    currency: String,
    failed: Option<String>,
}

impl Xml {
    fn put(&mut self, event: Event<'_>) {
        if let Err(error) = self.out.write_event(event)
            && self.failed.is_none()
        {
            self.failed = Some(error.to_string());
        }
    }

    fn within(&mut self, name: &str, inside: impl FnOnce(&mut Xml)) {
        self.put(Event::Start(BytesStart::new(name)));
        inside(self);
        self.put(Event::End(BytesEnd::new(name)));
    }

    fn text(&mut self, name: &str, text: &str) {
        self.element(BytesStart::new(name), name, text);
    }

    /// Nothing for an empty text: UBL knows no empty elements.
    fn some(&mut self, name: &str, text: &str) {
        if !text.trim().is_empty() {
            self.text(name, text);
        }
    }

    fn with(&mut self, attribute: &str, value: &str, name: &str, text: &str) {
        let start = BytesStart::new(name).with_attributes([(attribute, value)]);
        self.element(start, name, text);
    }

    fn money(&mut self, name: &str, cents: i64) {
        let currency = self.currency.clone();
        self.with("currencyID", &currency, name, &decimal(cents, &currency));
    }

    fn element(&mut self, start: BytesStart<'_>, name: &str, text: &str) {
        let clean: String = text.trim().chars().filter(|c| allowed(*c)).collect();
        self.put(Event::Start(start));
        self.put(Event::Text(BytesText::new(&clean)));
        self.put(Event::End(BytesEnd::new(name)));
    }
}

/// Characters that XML 1.0 knows (production 2).
fn allowed(c: char) -> bool {
    matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..='\u{10ffff}')
}

#[cfg(test)]
#[path = "ubl_tests.rs"]
mod tests;
