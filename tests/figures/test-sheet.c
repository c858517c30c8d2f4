#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-sheet-private.h"

/* Handwriting wants 7 mm at the least: common practice of forms, no source. */
#define LEAST_BLANK TPT_MM (7)

/* Edges that touch may differ by rounding. */
#define TOUCH 0.01

static char *
repeat (const char *word, guint n)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", word);
  return g_string_free (text, FALSE);
}

static void
add_table (TptSheet *sheet, guint n_rows, const char *text)
{
  const char *const boxes[] = { "Swapped", "Cleaned", "Repaired", "Removed", NULL };
  const TptSheetColumn columns[] = { { "Unit", 30 }, { "Volts", 14 }, { "Done", 40 }, { "A title of several words", 12 } };
  TptSheetTable *table = tpt_sheet_add_table (sheet, columns, G_N_ELEMENTS (columns));
  const TptSheetCell cells[] = { { text, text, NULL, FALSE }, { .closed = TRUE }, { .boxes = boxes }, { NULL } };

  for (guint i = 0; i < n_rows; i++)
    tpt_sheet_table_add_row (table, cells);
}

/* A chapter with one of everything. */
static void
add_chapter (TptSheet *sheet, const char *title, const char *text, guint n_rows)
{
  const char *const items[] = { "8 AA", text, NULL };
  const char *const labels[] = { "Arrived", "Who", text, NULL };
  const char *const found[] = { "Working", "Dead", "Card full", "Disturbed", "Gone", NULL };

  tpt_sheet_begin (sheet, title, "CODE", "below");
  tpt_sheet_begin_columns (sheet);
  tpt_sheet_add_heading (sheet, "Way in");
  tpt_sheet_add_text (sheet, text, TPT_VOICE_PLAIN);
  tpt_sheet_next_column (sheet);
  tpt_sheet_add_heading (sheet, "Bring");
  tpt_sheet_add_list (sheet, items, TRUE);
  tpt_sheet_end_columns (sheet);
  tpt_sheet_add_caution (sheet, "Take care", items);
  tpt_sheet_add_blanks (sheet, labels);
  tpt_sheet_add_choice (sheet, text, found);
  tpt_sheet_add_heading (sheet, "Check");
  add_table (sheet, n_rows, text);
  tpt_sheet_add_lines (sheet, 3);
}

static gboolean
overlap (const TptFigureRect *a, const TptFigureRect *b)
{
  return a->x + TOUCH < b->x + b->width && b->x + TOUCH < a->x + a->width && a->y + TOUCH < b->y + b->height &&
         b->y + TOUCH < a->y + a->height;
}

/* Every row of every block stands once, in order, inside the page and in
 * nothing else's place. */
static void
check_places (TptSheet *sheet)
{
  GArray *pieces = sheet->pieces;

  for (guint i = 0; i < pieces->len; i++)
    {
      const TptSheetPiece *piece = &g_array_index (pieces, TptSheetPiece, i);
      const TptSheetPiece *before = i > 0 ? piece - 1 : NULL;

      g_assert_cmpfloat (piece->area.x, >=, TPT_SHEET_MARGIN - TOUCH);
      g_assert_cmpfloat (piece->area.x + piece->area.width, <=, sheet->width - TPT_SHEET_MARGIN + TOUCH);
      g_assert_cmpfloat (piece->area.y, >=, TPT_SHEET_MARGIN);
      g_assert_cmpfloat (piece->area.y + piece->area.height, <=, sheet->height - TPT_SHEET_MARGIN - TPT_SHEET_FOOT + TOUCH);
      g_assert_cmpuint (piece->first, ==, before != NULL && before->block == piece->block ? before->first + before->n_rows : 0);
      for (guint j = 0; j < i; j++)
        {
          const TptSheetPiece *other = &g_array_index (pieces, TptSheetPiece, j);
          g_assert_false (other->page == piece->page && overlap (&other->area, &piece->area));
        }
    }
}

static guint
count_rows (TptSheet *sheet)
{
  guint n = 0;

  for (guint i = 0; i < sheet->pieces->len; i++)
    n += g_array_index (sheet->pieces, TptSheetPiece, i).n_rows;
  return n;
}

static void
test_places (void)
{
  static const struct {
    TptPaper paper;
    guint words; /* of each text */
    guint n_rows;
    guint least_pages, most_pages;
  } cases[] = {
    { TPT_PAPER_A4, 3, 7, 1, 1 },      /* an ordinary rig */
    { TPT_PAPER_LETTER, 3, 7, 1, 1 },
    { TPT_PAPER_A4, 12, 12, 1, 2 },    /* a large one */
    { TPT_PAPER_A4, 3, 60, 3, 6 },     /* its table goes over pages */
    { TPT_PAPER_A4, 120, 2, 1, 3 },    /* columns that cannot stand side by side */
    { TPT_PAPER_LETTER, 60, 0, 1, 2 }, /* nothing to check */
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptSheet) sheet = tpt_sheet_new (cases[i].paper, "Test");
      g_autofree char *text = repeat ("Otterbank", cases[i].words);
      guint n;

      add_chapter (sheet, "Otter bank", text, cases[i].n_rows);
      n = tpt_sheet_count_pages (sheet);
      g_test_message ("case %u: %u pages", i, n);
      g_assert_cmpuint (n, >=, cases[i].least_pages);
      g_assert_cmpuint (n, <=, cases[i].most_pages);
      g_assert_cmpuint (count_rows (sheet), >=, cases[i].n_rows);
      check_places (sheet);
    }
}

/* A paragraph longer than a page is cut between lines and loses none. */
static void
test_long_text (void)
{
  g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");
  g_autofree char *text = repeat ("by the second ford turn left", 600);
  guint lines, n;

  tpt_sheet_begin (sheet, "Otter bank", NULL, NULL);
  tpt_sheet_begin_columns (sheet);
  tpt_sheet_add_text (sheet, text, TPT_VOICE_PLAIN);
  tpt_sheet_next_column (sheet);
  tpt_sheet_add_text (sheet, "short", TPT_VOICE_QUIET);
  tpt_sheet_end_columns (sheet);
  n = tpt_sheet_count_pages (sheet);
  g_assert_cmpuint (n, >, 1);
  check_places (sheet);

  {
    const TptSheetPiece *first = &g_array_index (sheet->pieces, TptSheetPiece, 0);
    cairo_surface_t *surface = cairo_pdf_surface_create (NULL, 10, 10);
    cairo_t *cr = cairo_create (surface);
    TptCanvas canvas;

    tpt_sheet_canvas_begin (&canvas, cr);
    lines = first->block->kind->count (first->block, &canvas, first->area.width);
    tpt_canvas_end (&canvas);
    cairo_destroy (cr);
    cairo_surface_destroy (surface);
  }
  g_assert_cmpuint (count_rows (sheet), ==, lines + 1);
}

/* The title of an empty page, a heading at the foot: what follows it comes along. */
static void
test_heading_stays (void)
{
  for (guint filler = 1; filler < 40; filler++)
    {
      g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");
      const TptSheetPiece *last, *heading;

      tpt_sheet_begin (sheet, "Otter bank", NULL, NULL);
      tpt_sheet_add_lines (sheet, filler);
      tpt_sheet_add_heading (sheet, "Check");
      add_table (sheet, 1, "unit");
      tpt_sheet_count_pages (sheet);
      last = &g_array_index (sheet->pieces, TptSheetPiece, sheet->pieces->len - 1);
      heading = last - 1;
      g_assert_cmpuint (heading->page, ==, last->page);
      check_places (sheet);
    }
}

static void
test_room_to_write (void)
{
  g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");
  const char *const labels[] = { "Arrived", NULL };

  tpt_sheet_begin (sheet, "Otter bank", NULL, NULL);
  tpt_sheet_add_blanks (sheet, labels);
  tpt_sheet_add_lines (sheet, 1);
  add_table (sheet, 1, "unit");
  tpt_sheet_count_pages (sheet);
  g_assert_cmpuint (sheet->pieces->len, ==, 3);
  for (guint i = 0; i < sheet->pieces->len; i++)
    g_assert_cmpfloat (g_array_index (sheet->pieces, TptSheetPiece, i).area.height, >=, LEAST_BLANK);
}

static void
test_chapters (void)
{
  g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");

  add_chapter (sheet, "One", "text", 2);
  g_assert_cmpuint (tpt_sheet_count_pages (sheet), ==, 1);
  add_chapter (sheet, "Two", "text", 60); /* added to a sheet that was laid out */
  g_assert_cmpuint (tpt_sheet_count_pages (sheet), >, 2);
  g_assert_false (g_array_index (sheet->pages, TptSheetPage, 1).continued);
  g_assert_true (g_array_index (sheet->pages, TptSheetPage, 2).continued);
  check_places (sheet);
}

static char *
write_sheet (const char *folder, const char *name, gboolean mark)
{
  g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");
  g_autoptr (GError) error = NULL;
  char *path = g_build_filename (folder, name, NULL);

  tpt_sheet_set_footer (sheet, "Somewhere");
  if (mark)
    tpt_sheet_set_mark (sheet, "Exact");
  add_chapter (sheet, "One", "text", 20);
  g_assert_true (tpt_sheet_write_pdf (sheet, path, &error));
  g_assert_no_error (error);
  return path;
}

/* Removes the file. */
static GBytes *
read_sheet (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *content = NULL;
  gsize length;

  g_file_get_contents (path, &content, &length, &error);
  g_assert_no_error (error);
  g_assert_cmpint (strncmp (content, "%PDF-", 5), ==, 0);
  g_assert_null (memmem (content, length, "/CreationDate", strlen ("/CreationDate")));
  g_unlink (path);
  return g_bytes_new_take (content, length);
}

static void
test_same_bytes (void)
{
  g_autofree char *folder = g_dir_make_tmp ("sheet-XXXXXX", NULL);
  g_autofree char *a = write_sheet (folder, "a.pdf", FALSE), *b = write_sheet (folder, "b.pdf", FALSE);
  g_autofree char *c = write_sheet (folder, "c.pdf", TRUE);
  g_autoptr (GBytes) first = read_sheet (a), second = read_sheet (b), marked = read_sheet (c);

  g_assert_true (g_bytes_equal (first, second));
  g_assert_false (g_bytes_equal (first, marked));
  g_rmdir (folder);
}

static void
test_no_folder (void)
{
  g_autoptr (TptSheet) sheet = tpt_sheet_new (TPT_PAPER_A4, "Test");
  g_autoptr (GError) error = NULL;

  add_chapter (sheet, "One", "text", 1);
  g_assert_false (tpt_sheet_write_pdf (sheet, "no-such-folder/a.pdf", &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
}

static void
test_paper (void)
{
  /* Points: 210 by 297 mm, 8.5 by 11 inches (ISO 216 and ANSI/ASME Y14.1, from memory). */
  static const struct {
    const char *word;
    double width, height; /* mm; 0 refused */
  } cases[] = {
    { "a4", 210, 297 }, { "A4", 210, 297 }, { "letter", 215.9, 279.4 }, { "Letter", 215.9, 279.4 }, { "a5", 0, 0 }, { "", 0, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptSheet) sheet = NULL;
      TptPaper paper;

      if (!tpt_paper_parse (cases[i].word, &paper, &error))
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
          g_assert_cmpfloat (cases[i].width, ==, 0);
          continue;
        }
      sheet = tpt_sheet_new (paper, "Test");
      g_assert_cmpfloat_with_epsilon (sheet->width, TPT_MM (cases[i].width), 1e-9);
      g_assert_cmpfloat_with_epsilon (sheet->height, TPT_MM (cases[i].height), 1e-9);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/sheet/places", test_places);
  g_test_add_func ("/figures/sheet/long-text", test_long_text);
  g_test_add_func ("/figures/sheet/heading-stays", test_heading_stays);
  g_test_add_func ("/figures/sheet/room-to-write", test_room_to_write);
  g_test_add_func ("/figures/sheet/chapters", test_chapters);
  g_test_add_func ("/figures/sheet/same-bytes", test_same_bytes);
  g_test_add_func ("/figures/sheet/no-folder", test_no_folder);
  g_test_add_func ("/figures/sheet/paper", test_paper);
  return g_test_run ();
}
