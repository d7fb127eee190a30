//! Columns of one kind each, and a Parquet file made of them.
//!
//! Knows the file format through its own library, in its plainest form: every column may be null, no
//! compression, one group of rows. Does not know what a column means.

use parquet::{
    basic::{LogicalType, Repetition, TimeUnit, Type as Physical},
    data_type::{ByteArray, ByteArrayType, DoubleType, Int64Type},
    errors::ParquetError,
    file::{
        properties::WriterProperties,
        writer::{SerializedFileWriter, SerializedRowGroupWriter},
    },
    schema::types::Type,
};
use std::sync::Arc;

/// Why a table cannot be written: the library refused it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the table cannot be written ({0}); this is a fault of the program")]
pub struct Unwritable(String);

impl From<ParquetError> for Unwritable {
    fn from(err: ParquetError) -> Self {
        Self(err.to_string())
    }
}

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cell {
    Text(Option<String>),
    Number(Option<f64>),
    Count(Option<i64>),
    /// Microseconds since 1970, UTC.
    Time(i64),
}

impl Cell {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(Some(text.into()).filter(|it| !it.is_empty()))
    }
}

/// A table with named columns, filled row by row.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    names: &'static [&'static str],
    rows: Vec<Vec<Cell>>,
}

impl Table {
    pub(crate) const fn new(names: &'static [&'static str]) -> Self {
        Self { names, rows: Vec::new() }
    }

    pub(crate) fn add<const N: usize>(&mut self, row: [Cell; N]) {
        self.rows.push(row.into());
    }

    pub(crate) const fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    fn column(&self, place: usize) -> impl Iterator<Item = &Cell> {
        self.rows.iter().filter_map(move |row| row.get(place))
    }

    /// The bytes of a file with these rows. Rows of a kind give a column its kind.
    pub(crate) fn file(&self) -> Result<Vec<u8>, Unwritable> {
        let field = |(place, name): (usize, &&str)| {
            let (physical, logical) = match self.column(place).next() {
                Some(Cell::Text(_)) | None => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
                Some(Cell::Number(_)) => (Physical::DOUBLE, None),
                Some(Cell::Count(_)) => (Physical::INT64, None),
                Some(Cell::Time(_)) => {
                    (Physical::INT64, Some(LogicalType::timestamp(true, TimeUnit::MICROS)))
                }
            };
            let of = Type::primitive_type_builder(name, physical).with_logical_type(logical);
            of.with_repetition(Repetition::OPTIONAL).build().map(Arc::new)
        };
        let fields = self.names.iter().enumerate().map(field).collect::<Result<Vec<_>, _>>()?;
        let schema = Type::group_type_builder("row").with_fields(fields).build()?;
        let properties = WriterProperties::builder().set_created_by("gapwright".to_owned()).build();
        let mut file =
            SerializedFileWriter::new(Vec::new(), Arc::new(schema), Arc::new(properties))?;
        let mut group = file.next_row_group()?;
        for place in 0..self.names.len() {
            let cells: Vec<&Cell> = self.column(place).collect();
            put(&mut group, &cells)?;
        }
        group.close()?;
        Ok(file.into_inner()?)
    }
}

fn put(
    group: &mut SerializedRowGroupWriter<'_, Vec<u8>>,
    cells: &[&Cell],
) -> Result<(), ParquetError> {
    let there: Vec<i16> = cells.iter().map(|cell| i16::from(!is_null(cell))).collect();
    let Some(mut column) = group.next_column()? else { return Ok(()) };
    let levels = Some(there.as_slice());
    match cells.first() {
        Some(Cell::Number(_)) => {
            let values = cells.iter().filter_map(|cell| match cell {
                Cell::Number(value) => *value,
                _ => None,
            });
            let values: Vec<f64> = values.collect();
            column.typed::<DoubleType>().write_batch(&values, levels, None)?;
        }
        Some(Cell::Count(_) | Cell::Time(_)) => {
            let values = cells.iter().filter_map(|cell| match cell {
                Cell::Count(value) => *value,
                Cell::Time(value) => Some(*value),
                _ => None,
            });
            let values: Vec<i64> = values.collect();
            column.typed::<Int64Type>().write_batch(&values, levels, None)?;
        }
        Some(Cell::Text(_)) | None => {
            let values = cells.iter().filter_map(|cell| match cell {
                Cell::Text(Some(text)) => Some(ByteArray::from(text.as_str())),
                _ => None,
            });
            let values: Vec<ByteArray> = values.collect();
            column.typed::<ByteArrayType>().write_batch(&values, levels, None)?;
        }
    }
    column.close()
}

const fn is_null(cell: &Cell) -> bool {
    matches!(cell, Cell::Text(None) | Cell::Number(None) | Cell::Count(None))
}
