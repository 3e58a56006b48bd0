//! Words: those of the trade are explained, and none is shown that is not in the catalogue.

mod glossary;
mod translated;
