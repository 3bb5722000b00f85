//! `wale check --mend`: makes the safe fixes in a pattern file.

use super::library::Folder;
use super::{difference, read, save, work};
use std::path::Path;
use wale::Checked;
use wale::clean;
use wale::mend::Mended;

/// Mends the pattern file at `path`, and says what was changed as lines to be shown; nothing where nothing was.
///
/// # Errors
/// A sentence for the knitter; the file is then as it was.
pub(crate) fn file(path: &Path) -> Result<(Mended<Checked>, String), String> {
    if path.as_os_str() == read::DASH {
        return Err(
            "standard input cannot be mended, because there is no file to write to. Save the pattern to a file \
                    and give its name."
                .to_owned(),
        );
    }
    let before = read::file(path)?;
    let name = path.to_string_lossy();
    let mended = wale::mend::mend(&before, |text| wale::check(&name, text, &Folder::of(path)));
    let mended = Mended { checked: work::begun(mended.checked, &name)?, ..mended };
    if mended.text != before {
        save::replace(path, &before, &mended.text, "mended")?;
    }
    let mut shown = difference::lines(&name, &before, &mended.text, "mended");
    if mended.count > 0 {
        let places = if mended.count == 1 { "1 finding" } else { &format!("{} findings", mended.count) };
        shown.push_str(&format!("\nmended: {places} in {}\n\n", clean::line(&name)));
    }
    Ok((mended, shown))
}
