//! A table of figures as plain text.

use super::figure::Figure;

/// Figures under one title, rows and columns in the order in which they were first told.
#[derive(Debug)]
pub(super) struct Table {
    title: String,
    rows: Vec<String>,
    columns: Vec<String>,
    figures: Vec<Figure>,
}

impl Table {
    /// The tables of figures, in the order in which they were first told.
    pub(super) fn all_of(figures: Vec<Figure>) -> Vec<Self> {
        let mut tables: Vec<Self> = Vec::new();
        for figure in figures {
            match tables.iter_mut().find(|table| table.title == figure.table) {
                Some(table) => table.add(figure),
                None => tables.push(Self::begun_with(figure)),
            }
        }
        tables
    }

    fn begun_with(figure: Figure) -> Self {
        let mut table =
            Self { title: figure.table.clone(), rows: Vec::new(), columns: Vec::new(), figures: Vec::new() };
        table.add(figure);
        table
    }

    fn add(&mut self, figure: Figure) {
        for (names, name) in [(&mut self.rows, &figure.row), (&mut self.columns, &figure.column)] {
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
        self.figures.push(figure);
    }

    /// What stands in a place; what was told last if it was told twice.
    fn cell(&self, row: &str, column: &str) -> String {
        let found = self.figures.iter().rev().find(|figure| figure.row == row && figure.column == column);
        found.map_or_else(String::new, Figure::told)
    }

    /// Rows of cells, their heads included.
    fn cells(&self) -> Vec<Vec<String>> {
        let head = std::iter::once(self.title.clone()).chain(self.columns.iter().cloned()).collect();
        let rows = self.rows.iter().map(|row| {
            let cells = self.columns.iter().map(|column| self.cell(row, column));
            std::iter::once(row.clone()).chain(cells).collect()
        });
        std::iter::once(head).chain(rows).collect()
    }
}

/// As text: what it is about to the left, figures to the right.
impl std::fmt::Display for Table {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let cells = self.cells();
        let widest = |at: usize| {
            cells.iter().filter_map(|row| row.get(at)).map(|cell| cell.chars().count()).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..=self.columns.len()).map(widest).collect();
        for (at, row) in cells.iter().enumerate() {
            let padded = row.iter().zip(&widths).enumerate().map(|(place, (cell, width))| match place {
                0 => format!("{cell:<width$}"),
                _ => format!("{cell:>width$}"),
            });
            let line = padded.collect::<Vec<_>>().join("  ");
            writeln!(f, "{}", line.trim_end())?;
            if at == 0 {
                writeln!(f, "{}", "-".repeat(line.chars().count()))?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::figure::Unit;
    use super::*;

    fn figure(table: &str, row: &str, column: &str, value: f64) -> Figure {
        Figure::of(table, row, column, value, Unit::Count)
    }

    #[test]
    fn columns_are_aligned_and_an_empty_place_stays_empty() {
        let tables = Table::all_of(vec![
            figure("Core", "one setup", "native", 4.0),
            figure("Core", "all", "native", 12_345.0),
            figure("Core", "one setup", "wasm", 7.0),
        ]);
        let text = tables.iter().map(ToString::to_string).collect::<String>();
        let wanted =
            "Core       native  wasm\n-----------------------\none setup       4     7\nall         12345\n";
        assert_eq!(text, wanted);
    }

    #[test]
    fn every_title_has_a_table_of_its_own_and_the_last_word_counts() {
        let tables = Table::all_of(vec![
            figure("Core", "a", "native", 1.0),
            figure("Memory", "heap", "growth", 2.0),
            figure("Core", "a", "native", 3.0),
        ]);
        let texts: Vec<String> = tables.iter().map(ToString::to_string).collect();
        assert_eq!(texts.len(), 2);
        assert!(texts.first().is_some_and(|core| core.ends_with("a          3\n")), "{texts:?}");
    }
}
