//! What a file is to the system beside its text: whose it is, how many names it has, who holds it.

use std::fs::{File, Metadata};
use std::io;
use std::path::Path;

/// Whether a new file could be made like an old one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(not(unix), expect(dead_code, reason = "only there do files have owners and groups that are looked at"))]
pub(super) enum Keeps {
    All,
    NotOwner,
    NotGroup,
    /// Rights of single users or groups beside the permissions.
    NotRights,
}

/// How many names a file has.
pub(super) fn names_of(file: &Metadata) -> u64 {
    #[cfg(unix)]
    return std::os::unix::fs::MetadataExt::nlink(file);
    #[cfg(not(unix))]
    {
        let _ = file;
        1
    }
}

/// Holds a file until it is closed or the process ends, against others that ask. False if another process holds it.
pub(super) fn hold(file: &File) -> bool {
    #[cfg(unix)]
    {
        use rustix::fs::{FlockOperation, flock};
        // Where files cannot be held nobody is kept out.
        flock(file, FlockOperation::NonBlockingLockExclusive) != Err(rustix::io::Errno::WOULDBLOCK)
    }
    #[cfg(not(unix))]
    {
        let _ = file;
        true
    }
}

/// Whether it is certain that nobody holds a file.
pub(super) fn is_let_go(file: &File) -> bool {
    #[cfg(unix)]
    {
        use rustix::fs::{FlockOperation, flock};
        flock(file, FlockOperation::NonBlockingLockExclusive).is_ok()
    }
    #[cfg(not(unix))]
    {
        let _ = file;
        false
    }
}

/// Two files change their names, in one step.
///
/// # Errors
/// When they cannot, as on disks and systems that do not know of it.
pub(super) fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
    }
    #[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
    {
        let _ = (one, other);
        Err(io::ErrorKind::Unsupported.into())
    }
}

/// Gives `new` the owner, the group and the marks of `old`, as far as this user may.
///
/// # Errors
/// When one of them cannot be looked at.
pub(super) fn make_like(new: &File, old: &File) -> io::Result<Keeps> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        let (is, was) = (new.metadata()?, old.metadata()?);
        // Only the keeper of the machine may give files away, and others only a group that they are in.
        if is.uid() != was.uid() && fchown(new, Some(was.uid()), None).is_err() {
            return Ok(Keeps::NotOwner);
        }
        if is.gid() != was.gid() && fchown(new, None, Some(was.gid())).is_err() {
            return Ok(Keeps::NotGroup);
        }
    }
    #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
    if !are_marks_kept(new, old) {
        return Ok(Keeps::NotRights);
    }
    let _ = (new, old);
    Ok(Keeps::All)
}

/// Copies what programs and the system have written down beside a file (extended attributes). False if there are rights of
/// single users or groups among it that could not be kept: without them the permissions would mean something else.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn are_marks_kept(new: &File, old: &File) -> bool {
    use rustix::fs::{XattrFlags, fgetxattr, flistxattr, fsetxattr};
    /// The longest value that Linux keeps, and the longest list of names (from memory).
    const LONGEST: usize = 64 << 10;
    let mut names = vec![0; LONGEST];
    // A disk that knows of no marks has none to keep.
    let length = flistxattr(old, names.as_mut_slice()).unwrap_or(0);
    let mut value = vec![0; if length == 0 { 0 } else { LONGEST }];
    names[..length].split(|byte| *byte == 0).filter(|name| !name.is_empty()).all(|name| {
        let copied = fgetxattr(old, name, value.as_mut_slice())
            .and_then(|length| fsetxattr(new, name, &value[..length], XattrFlags::empty()));
        copied.is_ok() || !name.starts_with(b"system.posix_acl")
    })
}
