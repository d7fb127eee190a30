//! The few operations that keeping something takes, so that a test can let each of them fail.
//!
//! Knows temporary files, renames and directories. Does not know what is kept.

use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io::{self, Write as _},
    path::Path,
};
use tempfile::TempPath;

/// Where files are kept.
///
/// Every operation is all or nothing towards readers, except that [`Medium::stage`] may leave a
/// file of a name that nobody reads.
pub trait Medium {
    /// Creates a folder and its parents.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn create_dirs(&self, dir: &Path) -> io::Result<()>;

    /// Writes `bytes` to a new file in `dir`, under a name that nobody reads, down to the disk.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn stage(&self, dir: &Path, bytes: &[u8]) -> io::Result<TempPath>;

    /// Gives a staged file its name, if there is no file of that name.
    ///
    /// # Errors
    ///
    /// What the system said; `AlreadyExists` if there is one.
    fn publish(&self, staged: TempPath, target: &Path) -> io::Result<()>;

    /// Gives a staged file its name, in place of the file that had it.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn replace(&self, staged: TempPath, target: &Path) -> io::Result<()>;

    /// Gives a folder with all that is in it another name, if nothing but an empty folder has it.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn move_dir(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Brings the names in `dir` down to the disk.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn sync_dir(&self, dir: &Path) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Takes the lock on a file, which is made if it is not there; `None` if another window or
    /// program has it. A process that ends gives its locks back.
    ///
    /// # Errors
    ///
    /// What the system said.
    fn lock(&self, path: &Path) -> io::Result<Option<Lock>>;
}

/// A lock, given back when it is dropped.
#[derive(Debug)]
#[must_use = "a lock holds only as long as it is kept"]
pub struct Lock {
    _file: File,
}

/// The real disk.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

impl Medium for Disk {
    fn create_dirs(&self, dir: &Path) -> io::Result<()> {
        if dir.is_dir() {
            return Ok(());
        }
        let parent = dir.parent().filter(|parent| !parent.as_os_str().is_empty());
        if let Some(parent) = parent {
            self.create_dirs(parent)?;
        }
        match fs::create_dir(dir) {
            // Another window may have been faster.
            Err(err) if err.kind() == io::ErrorKind::AlreadyExists && dir.is_dir() => {}
            other => other?,
        }
        self.sync_dir(parent.unwrap_or(Path::new(".")))
    }

    fn stage(&self, dir: &Path, bytes: &[u8]) -> io::Result<TempPath> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(".gapwright-").suffix(".tmp");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            // Others in the crew read the yard too; the user's umask still takes away from it.
            builder.permissions(fs::Permissions::from_mode(0o644));
        }
        let mut file = builder.tempfile_in(dir)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        Ok(file.into_temp_path())
    }

    fn publish(&self, staged: TempPath, target: &Path) -> io::Result<()> {
        staged.persist_noclobber(target).map_err(|err| err.error)
    }

    fn replace(&self, staged: TempPath, target: &Path) -> io::Result<()> {
        staged.persist(target).map_err(|err| err.error)
    }

    fn move_dir(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        if cfg!(not(unix)) {
            // Elsewhere a folder cannot be opened, and renaming brings the name down itself.
            return Ok(());
        }
        match File::open(dir)?.sync_all() {
            // Some network and card file systems have no such operation.
            Err(err)
                if matches!(
                    err.kind(),
                    io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported
                ) =>
            {
                Ok(())
            }
            other => other,
        }
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn lock(&self, path: &Path) -> io::Result<Option<Lock>> {
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(path)?;
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => Ok(None),
            // Some network and card file systems know no locks; there, nobody is kept out.
            Err(TryLockError::Error(err)) if err.kind() != io::ErrorKind::Unsupported => Err(err),
            Ok(()) | Err(TryLockError::Error(_)) => Ok(Some(Lock { _file: file })),
        }
    }
}
