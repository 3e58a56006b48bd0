//! Many mutants in one text: each stands beside what it replaces, behind a switch.
//!
//! `a < b` with mutant 7 becomes `(if crate::mutant::on(7) { a <= b } else { a < b })`, a body gets
//! `if crate::mutant::on(8) { return true; }` in front, a match arm a guard. One build then serves all.

use std::collections::BTreeSet;
use std::ops::Range;

use proc_macro2::{LineColumn, Span};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

/// What stands at a place of a source in place of what stood there.
#[derive(Clone, Debug)]
pub struct Change {
    /// The number that switches it on.
    pub id: usize,
    pub kind: Kind,
}

#[derive(Clone, Debug)]
pub enum Kind {
    /// A mutant of cargo-mutants: its genre, where it begins (line from 1, column from 0), what is put there.
    Mutant { genre: String, start: LineColumn, replacement: String },
    /// A fault of ours: the bytes that are replaced.
    Fault { range: Range<usize>, replacement: String },
}

/// A source with its changes behind switches, and the changes that do not go in so.
pub struct Embedded {
    pub text: String,
    pub left_out: Vec<usize>,
}

/// A node of the source that has changes.
struct Site {
    range: Range<usize>,
    form: Form,
}

enum Form {
    Binary {
        left: Range<usize>,
        right: Range<usize>,
        op: Range<usize>,
        others: Vec<(usize, String)>,
    },
    Unary {
        operand: Range<usize>,
        op: Range<usize>,
        id: usize,
    },
    Body {
        returns: Vec<(usize, String)>,
        faults: Vec<(usize, Range<usize>, String)>,
    },
    Arm {
        pattern: Range<usize>,
        guard: Option<Range<usize>>,
        gone: Option<usize>,
        set: Vec<(usize, bool)>,
    },
    Fields {
        dropped: Vec<(usize, Range<usize>)>,
    },
    /// `const` before `fn`: a switch is nothing that a compiler can work out.
    Const,
}

/// Puts the changes into a source.
///
/// # Panics
/// If the source is not Rust.
pub fn embed(source: &str, changes: &[Change], constant: &BTreeSet<String>) -> Embedded {
    let file = syn::parse_file(source).expect("a source of the core is Rust");
    let mut finder = Finder { changes, constant, sites: Vec::new(), found: Vec::new(), fixed: 0 };
    finder.visit_file(&file);
    let Finder { mut sites, found, .. } = finder;
    let order = |site: &Site| {
        (site.range.start, usize::MAX - site.range.end, !matches!(site.form, Form::Body { .. }))
    };
    sites.sort_by_key(order);
    let left_out = changes.iter().map(|c| c.id).filter(|id| !found.contains(id)).collect();
    let text = Renderer { source, sites: &sites }.render(0..source.len(), 0);
    Embedded { text, left_out }
}

/// Names of the functions that constants call, and that those call: they have to stay `const`.
///
/// # Panics
/// If a source is not Rust.
pub fn constant(sources: &[String]) -> BTreeSet<String> {
    let files: Vec<_> =
        sources.iter().map(|s| syn::parse_file(s).expect("a source of the core is Rust")).collect();
    let mut names = BTreeSet::new();
    loop {
        let mut calls = Calls { constant: names.clone(), inside: 0, found: BTreeSet::new() };
        files.iter().for_each(|file| calls.visit_file(file));
        if calls.found.is_subset(&names) {
            return names;
        }
        names.extend(calls.found);
    }
}

/// Collects what is called in constants and in functions of these names.
struct Calls {
    constant: BTreeSet<String>,
    inside: usize,
    found: BTreeSet<String>,
}

impl Calls {
    fn inside(&mut self, is: bool, visit: impl FnOnce(&mut Self)) {
        self.inside += usize::from(is);
        visit(self);
        self.inside -= usize::from(is);
    }

    fn keeps(&self, signature: &syn::Signature) -> bool {
        signature.constness.is_some() && self.constant.contains(&signature.ident.to_string())
    }
}

impl<'ast> Visit<'ast> for Calls {
    fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
        self.inside(true, |v| visit::visit_item_const(v, item));
    }

    fn visit_impl_item_const(&mut self, item: &'ast syn::ImplItemConst) {
        self.inside(true, |v| visit::visit_impl_item_const(v, item));
    }

    fn visit_item_static(&mut self, item: &'ast syn::ItemStatic) {
        self.inside(true, |v| visit::visit_item_static(v, item));
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.inside(self.keeps(&item.sig), |v| visit::visit_item_fn(v, item));
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.inside(self.keeps(&item.sig), |v| visit::visit_impl_item_fn(v, item));
    }

    fn visit_expr_call(&mut self, call: &'ast syn::ExprCall) {
        if let (syn::Expr::Path(path), true) = (&*call.func, self.inside > 0) {
            self.found.extend(path.path.segments.last().map(|segment| segment.ident.to_string()));
        }
        visit::visit_expr_call(self, call);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        if self.inside > 0 {
            self.found.insert(call.method.to_string());
        }
        visit::visit_expr_method_call(self, call);
    }
}

// ---- finding ----

struct Finder<'a> {
    changes: &'a [Change],
    /// Functions that stay `const`.
    constant: &'a BTreeSet<String>,
    sites: Vec<Site>,
    found: Vec<usize>,
    /// How many constants the visit is inside of.
    fixed: usize,
}

fn bytes(node: &impl Spanned) -> Range<usize> {
    node.span().byte_range()
}

impl Finder<'_> {
    /// The mutants of a genre that begin where a span does.
    fn at(&mut self, wanted: &str, span: Span) -> Vec<(usize, String)> {
        if self.fixed > 0 {
            return Vec::new();
        }
        let here = |change: &Change| match &change.kind {
            Kind::Mutant { genre, start, replacement }
                if genre == wanted && *start == span.start() =>
            {
                Some((change.id, replacement.clone()))
            }
            _ => None,
        };
        let here: Vec<_> = self.changes.iter().filter_map(here).collect();
        self.found.extend(here.iter().map(|(id, _)| id));
        here
    }

    /// Goes through a function, switches or not.
    fn function(
        &mut self,
        signature: &syn::Signature,
        block: &syn::Block,
        visit: impl FnOnce(&mut Self),
    ) {
        let stays =
            signature.constness.is_some() && self.constant.contains(&signature.ident.to_string());
        if stays {
            self.fixed += 1;
            visit(self);
            self.fixed -= 1;
        } else {
            self.body(signature, block);
            visit(self);
        }
    }

    fn body(&mut self, signature: &syn::Signature, block: &syn::Block) {
        if let Some(constant) = &signature.constness {
            self.sites.push(Site { range: bytes(constant), form: Form::Const });
        }
        let inside = block.brace_token.span.open().byte_range().end
            ..block.brace_token.span.close().byte_range().start;
        let opaque = matches!(&signature.output, syn::ReturnType::Type(_, kind) if has_impl(kind));
        let returns = match block.stmts.first() {
            Some(first) if !opaque => self.at("FnValue", first.span()),
            _ => Vec::new(),
        };
        let innermost = |range: &Range<usize>| {
            inside.start <= range.start
                && range.end <= inside.end
                && !inner_function_holds(block, range)
        };
        let faults: Vec<_> = self
            .changes
            .iter()
            .filter_map(|change| match &change.kind {
                Kind::Fault { range, replacement } if !opaque && innermost(range) => {
                    Some((change.id, range.clone(), replacement.clone()))
                }
                _ => None,
            })
            .collect();
        self.found.extend(faults.iter().map(|(id, ..)| id));
        if !(returns.is_empty() && faults.is_empty()) {
            self.sites.push(Site { range: inside, form: Form::Body { returns, faults } });
        }
    }
}

fn has_impl(kind: &syn::Type) -> bool {
    struct Looks(bool);
    impl<'ast> Visit<'ast> for Looks {
        fn visit_type_impl_trait(&mut self, _: &'ast syn::TypeImplTrait) {
            self.0 = true;
        }
    }
    let mut looks = Looks(false);
    looks.visit_type(kind);
    looks.0
}

fn has_let(expression: &syn::Expr) -> bool {
    match expression {
        syn::Expr::Let(_) => true,
        syn::Expr::Binary(binary) => has_let(&binary.left) || has_let(&binary.right),
        _ => false,
    }
}

/// Whether a function inside this block holds the range.
fn inner_function_holds(block: &syn::Block, range: &Range<usize>) -> bool {
    struct Looks<'a>(&'a Range<usize>, bool);
    impl<'ast> Visit<'ast> for Looks<'_> {
        fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
            let block = bytes(&item.block);
            self.1 |= block.start <= self.0.start && self.0.end <= block.end;
        }
    }
    let mut looks = Looks(range, false);
    looks.visit_block(block);
    looks.1
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        let test = |attribute: &syn::Attribute| {
            let syn::Meta::List(list) = &attribute.meta else { return false };
            list.path.is_ident("cfg") && list.tokens.to_string() == "test"
        };
        if !item.attrs.iter().any(test) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.function(&item.sig, &item.block, |v| visit::visit_item_fn(v, item));
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.function(&item.sig, &item.block, |v| visit::visit_impl_item_fn(v, item));
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        if let Some(block) = &item.default {
            self.function(&item.sig, block, |v| visit::visit_trait_item_fn(v, item));
        }
    }

    fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
        self.fixed += 1;
        visit::visit_item_const(self, item);
        self.fixed -= 1;
    }

    fn visit_impl_item_const(&mut self, item: &'ast syn::ImplItemConst) {
        self.fixed += 1;
        visit::visit_impl_item_const(self, item);
        self.fixed -= 1;
    }

    fn visit_item_static(&mut self, item: &'ast syn::ItemStatic) {
        self.fixed += 1;
        visit::visit_item_static(self, item);
        self.fixed -= 1;
    }

    fn visit_type_array(&mut self, array: &'ast syn::TypeArray) {
        self.fixed += 1;
        visit::visit_type_array(self, array);
        self.fixed -= 1;
    }

    fn visit_expr_repeat(&mut self, repeat: &'ast syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
    }

    fn visit_expr_binary(&mut self, node: &'ast syn::ExprBinary) {
        if !(has_let(&node.left) || has_let(&node.right)) {
            let others = self.at("BinaryOperator", node.op.span());
            if !others.is_empty() {
                let form = Form::Binary {
                    left: bytes(&node.left),
                    right: bytes(&node.right),
                    op: bytes(&node.op),
                    others,
                };
                self.sites.push(Site { range: bytes(node), form });
            }
        }
        visit::visit_expr_binary(self, node);
    }

    fn visit_expr_unary(&mut self, node: &'ast syn::ExprUnary) {
        for (id, _) in self.at("UnaryOperator", node.op.span()) {
            let form = Form::Unary { operand: bytes(&node.expr), op: bytes(&node.op), id };
            self.sites.push(Site { range: bytes(node), form });
        }
        visit::visit_expr_unary(self, node);
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        let guard = arm.guard.as_ref().map(|(_, guard)| guard);
        if !guard.is_some_and(|guard| has_let(guard)) {
            let gone = self.at("MatchArm", arm.span()).first().map(|(id, _)| *id);
            let set = guard.map_or_else(Vec::new, |guard| self.at("MatchArmGuard", guard.span()));
            let set: Vec<_> = set.into_iter().map(|(id, value)| (id, value == "true")).collect();
            if gone.is_some() || !set.is_empty() {
                let pattern = bytes(&arm.pat);
                let guard = guard.map(bytes);
                let end = guard.as_ref().map_or(pattern.end, |guard| guard.end);
                let range = pattern.start..end;
                self.sites.push(Site { range, form: Form::Arm { pattern, guard, gone, set } });
            }
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr_struct(&mut self, node: &'ast syn::ExprStruct) {
        let mut dropped = Vec::new();
        if node.rest.is_some() {
            for pair in node.fields.pairs() {
                let field = bytes(pair.value());
                let end = pair.punct().map_or(field.end, |comma| bytes(comma).end);
                let here = self.at("StructField", pair.value().span());
                dropped.extend(here.into_iter().map(|(id, _)| (id, field.start..end)));
            }
        }
        if !dropped.is_empty() {
            self.sites.push(Site { range: bytes(node), form: Form::Fields { dropped } });
        }
        visit::visit_expr_struct(self, node);
    }
}

// ---- writing ----

struct Renderer<'a> {
    source: &'a str,
    sites: &'a [Site],
}

/// What a change puts there, in marks that tell whose fault it is where it does not compile.
fn marked(id: usize, text: &str) -> String {
    format!("/*<{id}>*/{text}/*</{id}>*/")
}

fn switch(id: usize) -> String {
    format!("crate::mutant::on({id})")
}

impl Renderer<'_> {
    /// A range with the sites in it from place `from` of the list on.
    fn render(&self, range: Range<usize>, from: usize) -> String {
        let mut text = String::new();
        let mut done = range.start;
        for (place, site) in self.sites.iter().enumerate().skip(from) {
            if site.range.start < done || site.range.end > range.end {
                continue;
            }
            text.push_str(&self.source[done..site.range.start]);
            text.push_str(&self.site(site, place + 1));
            done = site.range.end;
        }
        text.push_str(&self.source[done..range.end]);
        text
    }

    fn site(&self, site: &Site, next: usize) -> String {
        match &site.form {
            Form::Const => String::new(),
            Form::Binary { left, right, op, others } => {
                let [left, right] = [left, right].map(|side| self.render(side.clone(), next));
                let mut text = format!("({left}) {} ({right})", &self.source[op.clone()]);
                for (id, other) in others {
                    let changed = format!("({left}) {other} ({right})");
                    text = self.either(*id, &changed, &text);
                }
                format!("({text})")
            }
            Form::Unary { operand, op, id } => {
                let operand = self.render(operand.clone(), next);
                let kept = format!("{}({operand})", &self.source[op.clone()]);
                format!("({})", self.either(*id, &operand, &kept))
            }
            Form::Body { returns, faults } => {
                let mut text = self.render(site.range.clone(), next);
                for (id, range, replacement) in faults {
                    let before = &self.source[site.range.start..range.start];
                    let after = &self.source[range.end..site.range.end];
                    let changed = format!("{before}{replacement}{after}");
                    text = self.either(*id, &changed, &text);
                }
                for (id, value) in returns {
                    let early = marked(*id, &format!("return {value};"));
                    text = format!("\nif {} {{ {early} }}{text}", switch(*id));
                }
                text
            }
            Form::Arm { pattern, guard, gone, set } => {
                let mut condition = guard
                    .as_ref()
                    .map_or("true".to_owned(), |guard| self.render(guard.clone(), next));
                for (id, value) in set {
                    let switch = switch(*id);
                    condition = if *value {
                        format!("({switch} || ({condition}))")
                    } else {
                        format!("(!{switch} && ({condition}))")
                    };
                }
                if let Some(id) = gone {
                    condition = format!("(!{} && ({condition}))", switch(*id));
                }
                format!("{} if {condition}", &self.source[pattern.clone()])
            }
            Form::Fields { dropped } => {
                let mut text = self.render(site.range.clone(), next);
                for (id, field) in dropped {
                    let before = &self.source[site.range.start..field.start];
                    let after = &self.source[field.end..site.range.end];
                    text = self.either(*id, &format!("{before}{after}"), &text);
                }
                format!("({text})")
            }
        }
    }

    fn either(&self, id: usize, changed: &str, kept: &str) -> String {
        let kept = format!("{{ {kept} }}");
        marked(id, &format!("if {} {{ {changed} }} else {kept}", switch(id)))
    }
}
