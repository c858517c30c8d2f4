/* Kinds of files, and the order of paths. */
#include "tpt-scan.h"

#include <string.h>

static const char *const jpeg_extensions[] = { "jpg", "jpeg", "jpe", "jfif", NULL };

static const char *const raw_extensions[] = {
  "3fr", "arw", "cr2", "cr3", "crw", "dcr", "dng", "erf", "fff", "heic", "heif", "hif", "iiq", "k25", "kdc",
  "mef", "mos", "mrw", "nef", "nrw", "orf", "pef", "ptx", "raf", "raw", "rw2", "rwl", "sr2", "srf", "srw",
  "tif", "tiff", "x3f", NULL,
};

static const char *const clip_extensions[] = {
  "3gp", "asf", "avi", "m2t", "m2ts", "m4v", "mkv", "mov", "mp4", "mpeg", "mpg", "mts", "webm", "wmv", NULL,
};

TptScanKind
tpt_scan_kind_from_name (const char *name)
{
  const char *dot = strrchr (name, '.');
  g_autofree char *extension = NULL;

  if (dot == NULL || strchr (dot, '/') != NULL)
    return TPT_SCAN_OTHER;

  extension = g_ascii_strdown (dot + 1, -1);
  if (g_strv_contains (jpeg_extensions, extension))
    return TPT_SCAN_JPEG;
  if (g_strv_contains (raw_extensions, extension))
    return TPT_SCAN_RAW;
  if (g_strv_contains (clip_extensions, extension))
    return TPT_SCAN_CLIP;
  return TPT_SCAN_OTHER;
}

/* First bytes, from the published descriptions of the formats: JPEG in ITU-T
 * T.81 annex B, TIFF 6.0 section 2, ISO/IEC 14496-12 for `ftyp`, RIFF, EBML,
 * ASF, and ISO/IEC 13818-1 for transport and program streams. The makers' own
 * marks (`IIU`, `IIRO`, `FUJIFILM...`, `FOVb`, `MRM`, `HEAPCCDR`) are common
 * practice, no source. */
typedef struct {
  guint offset;
  guint length;
  const char *bytes;
  TptScanKind kind;
} Mark;

static const Mark marks[] = {
  { 0, 3, "\xff\xd8\xff", TPT_SCAN_JPEG },
  { 0, 4, "II*\0", TPT_SCAN_RAW },
  { 0, 4, "MM\0*", TPT_SCAN_RAW },
  { 0, 4, "IIU\0", TPT_SCAN_RAW },
  { 0, 4, "IIRO", TPT_SCAN_RAW },
  { 0, 4, "IIRS", TPT_SCAN_RAW },
  { 0, 4, "MMOR", TPT_SCAN_RAW },
  { 0, 8, "FUJIFILM", TPT_SCAN_RAW },
  { 0, 4, "FOVb", TPT_SCAN_RAW },
  { 0, 4, "\0MRM", TPT_SCAN_RAW },
  { 6, 8, "HEAPCCDR", TPT_SCAN_RAW },
  { 4, 7, "ftypcrx", TPT_SCAN_RAW },
  { 4, 8, "ftypheic", TPT_SCAN_RAW },
  { 4, 8, "ftypheix", TPT_SCAN_RAW },
  { 4, 8, "ftypmif1", TPT_SCAN_RAW },
  { 4, 4, "ftyp", TPT_SCAN_CLIP },
  { 4, 4, "moov", TPT_SCAN_CLIP },
  { 4, 4, "mdat", TPT_SCAN_CLIP },
  { 4, 4, "wide", TPT_SCAN_CLIP },
  { 4, 4, "skip", TPT_SCAN_CLIP },
  { 4, 4, "free", TPT_SCAN_CLIP },
  { 8, 4, "AVI ", TPT_SCAN_CLIP },
  { 0, 4, "\x1a\x45\xdf\xa3", TPT_SCAN_CLIP },
  { 0, 4, "\x30\x26\xb2\x75", TPT_SCAN_CLIP },
  { 0, 4, "\0\0\1\xba", TPT_SCAN_CLIP },
  { 0, 4, "\0\0\1\xb3", TPT_SCAN_CLIP },
};

const char *
tpt_scan_kind_to_string (TptScanKind kind)
{
  static const char *const words[] = {
    [TPT_SCAN_OTHER] = NULL, [TPT_SCAN_JPEG] = "jpeg", [TPT_SCAN_RAW] = "raw", [TPT_SCAN_CLIP] = "clip",
  };

  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (words), NULL);
  return words[kind];
}

TptScanKind
tpt_scan_kind_from_content (const guint8 *head, gsize length)
{
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      const Mark *mark = &marks[i];

      if (mark->offset + mark->length <= length && memcmp (head + mark->offset, mark->bytes, mark->length) == 0)
        return mark->kind;
    }

  /* A transport stream is packets that begin with 0x47, of 188 bytes, or of
   * 192 with a time code before each: the first lies at 0 or 4. */
  if (length >= 5 && ((head[0] == 0x47 && (head[1] & 0x80) == 0) || (head[4] == 0x47 && head[0] != 0xff)))
    return TPT_SCAN_CLIP;
  return TPT_SCAN_OTHER;
}

/* Steps over the digits at *@p. (transfer none): the first that counts. */
static const char *
take_digits (const char **p, gsize *n)
{
  const char *digits = *p;

  while (*digits == '0')
    digits++;
  *p = digits;
  while (g_ascii_isdigit (**p))
    (*p)++;
  *n = *p - digits;
  return digits;
}

static int
compare_numbers (const char **a, const char **b)
{
  gsize n_a, n_b;
  const char *digits_a = take_digits (a, &n_a);
  const char *digits_b = take_digits (b, &n_b);

  if (n_a != n_b)
    return n_a < n_b ? -1 : 1;
  return strncmp (digits_a, digits_b, n_a);
}

/* A folder's end sorts before every other byte, so that a folder stays together. */
static int
rank_byte (char c)
{
  return c == '/' ? 1 : c == '\0' ? 0 : (guint8) c + 2;
}

int
tpt_scan_compare_paths (const char *a, const char *b)
{
  const char *p = a, *q = b;

  while (*p != '\0' && *q != '\0')
    {
      int order;

      if (g_ascii_isdigit (*p) && g_ascii_isdigit (*q))
        order = compare_numbers (&p, &q);
      else
        order = rank_byte (*p++) - rank_byte (*q++);
      if (order != 0)
        return order;
    }

  if (*p != *q)
    return rank_byte (*p) - rank_byte (*q);
  return strcmp (a, b);
}
