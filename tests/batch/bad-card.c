/* A card that fails while it is read, for programs started with this library
 * in LD_PRELOAD. What happens when a file whose path contains BAD_CARD_PATH has
 * been read up to byte BAD_CARD_AFTER, by BAD_CARD_WHAT:
 *
 *   spoil   every read from there on fails with EIO: a bad spot
 *   cut     once, the file is cut to half of that: somebody else writes to it
 *   grow    once, the file gets 1000 bytes more
 *   pull    once, the folder BAD_CARD_FOLDER is gone (renamed to .gone), and
 *           the read fails with ENODEV: the card is pulled out
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef ssize_t (*Read) (int fd, void *data, size_t count);

/* One thread reads the card. */
static int happened;

static int
is_meant (int fd, char path[PATH_MAX])
{
  const char *wanted = getenv ("BAD_CARD_PATH");
  char link[64];
  ssize_t n;

  snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  n = readlink (link, path, PATH_MAX - 1);
  if (n < 0 || wanted == NULL)
    return 0;
  path[n] = '\0';
  return strstr (path, wanted) != NULL;
}

static void
append (const char *path)
{
  char more[1000] = { 0 };
  int fd = open (path, O_WRONLY | O_APPEND | O_CLOEXEC);

  if (fd < 0 || write (fd, more, sizeof more) != (ssize_t) sizeof more)
    abort ();
  close (fd);
}

static void
pull (void)
{
  const char *folder = getenv ("BAD_CARD_FOLDER");
  char gone[PATH_MAX];

  snprintf (gone, sizeof gone, "%s.gone", folder);
  if (rename (folder, gone) != 0)
    abort ();
}

/* 0 to go on with reading; an errno. */
static int
happen (const char *path, long after)
{
  const char *what = getenv ("BAD_CARD_WHAT");

  if (strcmp (what, "spoil") == 0)
    return EIO;
  if (happened++ > 0)
    return 0;
  if (strcmp (what, "cut") == 0 && truncate (path, after / 2) != 0)
    abort ();
  if (strcmp (what, "grow") == 0)
    append (path);
  if (strcmp (what, "pull") != 0)
    return 0;
  pull ();
  return ENODEV;
}

ssize_t
read (int fd, void *data, size_t count)
{
  static Read next;
  char path[PATH_MAX];
  long after;
  off_t at;

  if (next == NULL)
    next = (Read) dlsym (RTLD_NEXT, "read");
  if (!is_meant (fd, path))
    return next (fd, data, count);

  after = atol (getenv ("BAD_CARD_AFTER"));
  at = lseek (fd, 0, SEEK_CUR);
  if (at < after)
    return next (fd, data, count < (size_t) (after - at) ? count : (size_t) (after - at));
  errno = happen (path, after);
  return errno != 0 ? -1 : next (fd, data, count);
}
