#include "figure-samples.h"
#include "tpt-error.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static const char *program; /* how this test was started */

static const char *const endings[] = { "svg", "pdf", "png" };

static TptFigureStyle
make_style (gboolean framed)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  style.framed = framed;
  return style;
}

static char *
export (TptFigure *figure,
        const char *folder,
        const char *ending,
        gsize *length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = g_strdup_printf ("figure.%s", ending);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = make_style (TRUE);
  char *bytes = NULL;

  tpt_figure_export (figure, path, &size, &style, &error);
  g_assert_no_error (error);
  g_file_get_contents (path, &bytes, length, &error);
  g_assert_no_error (error);
  return bytes;
}

static char *
make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("figures-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static guint
empty_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint found = 0;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_remove (path);
      found++;
    }

  return found;
}

static void
remove_folder (char *folder)
{
  empty_folder (folder);
  g_rmdir (folder);
  g_free (folder);
}

/* One line per figure and form: what a second process must write as well. */
static char *
make_digests (void)
{
  TptFigure *figures[N_SAMPLES];
  GString *text = g_string_new (NULL);
  char *folder = make_folder ();

  sample_all (figures);
  for (guint i = 0; i < N_SAMPLES; i++)
    {
      g_autofree char *csv = tpt_figure_csv (figures[i]);
      g_autofree char *csv_digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, csv, -1);

      g_string_append_printf (text, "%u csv %s\n", i, csv_digest);
      for (guint j = 0; j < G_N_ELEMENTS (endings); j++)
        {
          gsize length;
          g_autofree char *bytes = export (figures[i], folder, endings[j], &length);
          g_autofree char *digest = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);

          g_string_append_printf (text, "%u %s %s\n", i, endings[j], digest);
        }
      tpt_figure_unref (figures[i]);
    }

  remove_folder (folder);
  return g_string_free (text, FALSE);
}

static void
test_same_bytes_in_one_process (void)
{
  g_autofree char *first = make_digests ();
  g_autofree char *second = make_digests ();

  g_assert_cmpstr (first, ==, second);
}

/* A second later, too: no date of the writing is in any of them. */
static void
test_same_bytes_in_two_processes (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *here = make_digests ();
  g_autofree char *there = NULL;
  const char *argv[] = { program, "--digests", NULL };

  g_usleep (1100000);
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &there, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (here, ==, there);
}

typedef struct {
  GHashTable *ids;
  GPtrArray *references;
  GString *description;
  gboolean in_description;
} Svg;

static void
start_cb (GMarkupParseContext *context,
          const char *element,
          const char **names,
          const char **values,
          gpointer user_data,
          GError **error)
{
  Svg *svg = user_data;

  svg->in_description = g_str_equal (element, "desc");
  for (guint i = 0; names[i] != NULL; i++)
    {
      if (g_str_equal (names[i], "id"))
        g_assert_true (g_hash_table_add (svg->ids, g_strdup (values[i])));
      else if (g_str_equal (names[i], "xlink:href") && values[i][0] == '#')
        g_ptr_array_add (svg->references, g_strdup (values[i] + 1));
      else if (g_str_has_prefix (values[i], "url(#"))
        g_ptr_array_add (svg->references, g_strndup (values[i] + 5, strlen (values[i]) - 6));
    }
}

static void
text_cb (GMarkupParseContext *context,
         const char *text,
         gsize length,
         gpointer user_data,
         GError **error)
{
  Svg *svg = user_data;

  if (svg->in_description)
    g_string_append_len (svg->description, text, length);
}

static void
end_cb (GMarkupParseContext *context,
        const char *element,
        gpointer user_data,
        GError **error)
{
  ((Svg *) user_data)->in_description = FALSE;
}

/* Well formed, every id once, every reference to an id, and the words inside. */
static void
check_svg (const char *text,
           gsize length,
           const char *description)
{
  const GMarkupParser parser = { start_cb, end_cb, text_cb, NULL, NULL };
  g_autoptr (GError) error = NULL;
  Svg svg = { g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL), g_ptr_array_new_with_free_func (g_free),
              g_string_new (NULL), FALSE };
  GMarkupParseContext *context = g_markup_parse_context_new (&parser, 0, &svg, NULL);

  g_markup_parse_context_parse (context, text, length, &error);
  g_assert_no_error (error);
  g_markup_parse_context_end_parse (context, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (svg.references->len, >, 0);
  for (guint i = 0; i < svg.references->len; i++)
    g_assert_true (g_hash_table_contains (svg.ids, g_ptr_array_index (svg.references, i)));
  g_assert_cmpstr (svg.description->str, ==, description);

  g_markup_parse_context_free (context);
  g_hash_table_unref (svg.ids);
  g_ptr_array_unref (svg.references);
  g_string_free (svg.description, TRUE);
}

static void
test_svg_parses (void)
{
  TptFigure *figures[N_SAMPLES];
  char *folder = make_folder ();

  sample_all (figures);
  for (guint i = 0; i < N_SAMPLES; i++)
    {
      g_autofree char *words = tpt_figure_describe (figures[i]);
      gsize length;
      g_autofree char *svg = export (figures[i], folder, "svg", &length);

      check_svg (svg, length, words);
      tpt_figure_unref (figures[i]);
    }
  remove_folder (folder);
}

static guint32
read_number (const char *bytes)
{
  guint32 big;

  memcpy (&big, bytes, sizeof big);
  return GUINT32_FROM_BE (big);
}

/* Offsets as in the PNG specification, third edition, 5.2, 11.2.1 and 11.3.4.3. */
static void
test_png_size (void)
{
  static const struct {
    double width, height, dpi;
    guint32 pixels_wide, pixels_high, per_metre;
  } cases[] = {
    { 640, 480, 96, 640, 480, 3780 },
    { 320, 200, 192, 640, 400, 7559 },
    { 85 * 96 / 25.4, 60 * 96 / 25.4, 300, 1004, 709, 11811 }, /* 85 mm at 300 dpi */
    { 1, 1, 96, 1, 1, 3780 },
    { 1920, 1080, 96, 1920, 1080, 3780 },
  };
  g_autoptr (TptFigure) figure = sample_strip ();
  char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.PNG", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *bytes = NULL;
      TptFigureSize size = { cases[i].width, cases[i].height, cases[i].dpi, TPT_NO_INSTANT };
      TptFigureStyle style = make_style (TRUE);
      cairo_surface_t *again;

      tpt_figure_export (figure, path, &size, &style, &error);
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
      g_assert_cmpuint (read_number (bytes + 16), ==, cases[i].pixels_wide);
      g_assert_cmpuint (read_number (bytes + 20), ==, cases[i].pixels_high);
      g_assert_cmpint (memcmp (bytes + 37, "pHYs", 4), ==, 0);
      g_assert_cmpuint (read_number (bytes + 41), ==, cases[i].per_metre);

      /* libpng refuses a chunk whose check sum is wrong */
      again = cairo_image_surface_create_from_png (path);
      g_assert_cmpint (cairo_surface_status (again), ==, CAIRO_STATUS_SUCCESS);
      g_assert_cmpint (cairo_image_surface_get_width (again), ==, cases[i].pixels_wide);
      cairo_surface_destroy (again);
    }
  remove_folder (folder);
}

static void
test_pdf_date (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_autoptr (GError) error = NULL;
  char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.pdf", NULL);
  g_autofree char *with = NULL;
  g_autofree char *without = NULL;
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = make_style (TRUE);
  gsize length;

  tpt_figure_export (figure, path, &size, &style, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &without, &length, NULL));
  g_assert_null (memmem (without, length, "CreationDate", 12));

  size.created = sample_instant ("2026-06-14T08:00:00.250");
  tpt_figure_export (figure, path, &size, &style, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &with, &length, NULL));
  /* cairo 1.16 leaves out the "D:" of ISO 32000-1, 7.9.4; readers take it as well */
  g_assert_nonnull (memmem (with, length, "/CreationDate (", 15));
  g_assert_nonnull (memmem (with, length, "20260614000000Z)", 16));
  remove_folder (folder);
}

/* Each step fails in turn: what was there stays, and nothing is left beside it. */
static void
test_faults (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.svg", NULL);
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = make_style (TRUE);
  int n_steps;

  tpt_fault_arm (0);
  g_assert_true (tpt_figure_export (figure, path, &size, &style, NULL));
  n_steps = tpt_fault_count ();
  g_assert_cmpint (n_steps, >=, 4);

  for (int i = 1; i <= n_steps; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;

      g_assert_true (g_file_set_contents (path, "old", -1, NULL));
      tpt_fault_arm (i);
      g_assert_false (tpt_figure_export (figure, path, &size, &style, &error));
      tpt_fault_arm (0);
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      g_assert_true (g_file_get_contents (path, &after, NULL, NULL));
      g_assert_cmpstr (after, ==, "old");
      g_assert_cmpuint (empty_folder (folder), ==, 1);
    }
  remove_folder (folder);
}

static void
test_refusals (void)
{
  static const struct {
    const char *name;
    TptFigureSize size;
    TptError code;
  } cases[] = {
    { "a.jpeg", TPT_FIGURE_SIZE_INIT, TPT_ERROR_USAGE },
    { "png", TPT_FIGURE_SIZE_INIT, TPT_ERROR_USAGE },
    { "a.png", { 0, 100, 96, TPT_NO_INSTANT }, TPT_ERROR_USAGE },
    { "a.png", { 100, -1, 96, TPT_NO_INSTANT }, TPT_ERROR_USAGE },
    { "a.png", { 5000, 5000, 300, TPT_NO_INSTANT }, TPT_ERROR_USAGE },
    { "a.svg", { NAN, 100, 96, TPT_NO_INSTANT }, TPT_ERROR_USAGE },
    { "missing/a.svg", TPT_FIGURE_SIZE_INIT, TPT_ERROR_IO },
  };
  g_autoptr (TptFigure) figure = sample_strip ();
  char *folder = make_folder ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *path = g_build_filename (folder, cases[i].name, NULL);
      TptFigureStyle style = make_style (TRUE);

      g_assert_false (tpt_figure_export (figure, path, &cases[i].size, &style, &error));
      g_assert_error (error, TPT_ERROR, (int) cases[i].code);
      g_assert_cmpuint (empty_folder (folder), ==, 0);
    }
  remove_folder (folder);
}

static void
test_sizes (void)
{
  static const struct {
    const char *text;
    double width, height;
  } cases[] = {
    { "800x600", 800, 600 },
    { "800x600px", 800, 600 },
    { "254x127mm", 960, 480 },
    { "slide", 1280, 720 },
    { "phone", 390, 0 },
    { "page", 170 * 96 / 25.4, 0 },
    /* refused */
    { "", -1 }, { "800", -1 }, { "x600", -1 }, { "800x", -1 }, { "0x10", -1 }, { "-5x10", -1 },
    { "800x600cm", -1 }, { "99999x10", -1 }, { "infx10", -1 }, { "nanx10", -1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      TptFigureSize size = TPT_FIGURE_SIZE_INIT;

      if (cases[i].width < 0)
        {
          g_assert_false (tpt_figure_size_parse (cases[i].text, &size, &error));
          g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
          continue;
        }
      g_assert_true (tpt_figure_size_parse (cases[i].text, &size, &error));
      g_assert_cmpfloat_with_epsilon (size.width, cases[i].width, 1e-9);
      g_assert_cmpfloat_with_epsilon (size.height, cases[i].height, 1e-9);
    }
}

/* From a sliver to a wall, in every palette, framed and bare: nothing warns,
 * which the environment of the tests makes fatal, and cairo stays well. */
static void
test_any_size (void)
{
  static const double sides[] = { 0.5, 3, 40, 320, 1920 };
  TptFigure *figures[N_SAMPLES];

  sample_all (figures);
  for (guint i = 0; i < N_SAMPLES; i++)
    for (guint w = 0; w < G_N_ELEMENTS (sides); w++)
      for (guint h = 0; h < G_N_ELEMENTS (sides); h++)
        {
          cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 200, 200);
          cairo_t *cr = cairo_create (surface);
          TptFigureStyle style = make_style ((w + h) % 2 == 0);
          TptHit hit;

          style.palette = (TptPalette) ((w + h + i) % TPT_N_PALETTES);
          style.chosen_row = (int) w - 1;
          style.brush.from = sample_instant ("2026-03-05");
          tpt_figure_draw (figures[i], cr, sides[w], sides[h], &style);
          g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
          tpt_figure_hit (figures[i], sides[w] / 2, sides[h] / 2, sides[w], sides[h], &style, &hit);
          tpt_hit_clear (&hit);
          g_assert_cmpfloat (tpt_figure_preferred_height (figures[i], sides[w], &style), >, 0);
          cairo_destroy (cr);
          cairo_surface_destroy (surface);
        }
  for (guint i = 0; i < N_SAMPLES; i++)
    tpt_figure_unref (figures[i]);
}

static void
test_instants_and_positions (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_autoptr (TptFigure) map = sample_map (TPT_MAP_EXACT);
  TptFigureStyle style = make_style (TRUE);
  TptFigureRect plot = tpt_figure_plot_rect (figure, 800, 300, &style);
  TptInstant from = sample_instant ("2026-03-01");
  TptInstant to = sample_instant ("2026-05-01");
  TptInstant at;

  g_assert_true (tpt_figure_value_at (figure, plot.x, 800, 300, &style, &at));
  g_assert_cmpint (at, ==, from);
  g_assert_true (tpt_figure_value_at (figure, plot.x + plot.width, 800, 300, &style, &at));
  g_assert_cmpint (at, ==, to);
  g_assert_true (tpt_figure_value_at (figure, -1000, 800, 300, &style, &at));
  g_assert_cmpint (at, ==, from);
  g_assert_cmpfloat_with_epsilon (tpt_figure_position_of (figure, (from + to) / 2, 800, 300, &style),
                                  plot.x + plot.width / 2, 1e-6);
  g_assert_false (tpt_figure_value_at (map, 100, 800, 300, &style, &at));
  g_assert_true (isnan (tpt_figure_position_of (map, from, 800, 300, &style)));
}

/* RFC 4180, section 2, and the table behind a chart is the same as its CSV. */
static void
test_csv_file (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  g_autofree char *csv = tpt_figure_csv (figure);
  g_autofree char *written = NULL;
  char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.csv", NULL);

  g_assert_true (tpt_figure_write_csv (figure, path, NULL));
  g_assert_true (g_file_get_contents (path, &written, NULL, NULL));
  g_assert_cmpstr (written, ==, csv);
  g_assert_nonnull (strstr (csv, "\"Ridge, \"\"upper\"\"\",row"));
  g_assert_cmpstr (tpt_figure_table_get_column (table, 0), ==, "station");
  g_assert_cmpuint (tpt_figure_table_get_n_columns (table), ==, 7);
  g_assert_cmpstr (tpt_figure_table_get_cell (table, 0, 0), ==, "Otter bank");
  remove_folder (folder);
}

static void
test_frame_takes_room (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  TptFigureStyle bare = make_style (FALSE);
  TptFigureStyle framed = make_style (TRUE);
  TptFigureStyle large = make_style (TRUE);

  large.font_scale = 2;
  g_assert_cmpfloat (tpt_figure_preferred_height (figure, 600, &framed), >, tpt_figure_preferred_height (figure, 600, &bare) + 60);
  g_assert_cmpfloat (tpt_figure_preferred_height (figure, 600, &large), >, 1.8 * tpt_figure_preferred_height (figure, 600, &framed));
  /* a narrow frame wraps its words */
  g_assert_cmpfloat (tpt_figure_preferred_height (figure, 200, &framed), >, tpt_figure_preferred_height (figure, 600, &framed));
}

int
main (int argc,
      char *argv[])
{
  program = argv[0];
  if (argc == 2 && g_str_equal (argv[1], "--digests"))
    {
      g_autofree char *digests = make_digests ();

      fputs (digests, stdout);
      return 0;
    }

  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/figure/same-bytes-in-one-process", test_same_bytes_in_one_process);
  g_test_add_func ("/figures/figure/same-bytes-in-two-processes", test_same_bytes_in_two_processes);
  g_test_add_func ("/figures/figure/svg-parses", test_svg_parses);
  g_test_add_func ("/figures/figure/png-size", test_png_size);
  g_test_add_func ("/figures/figure/pdf-date", test_pdf_date);
  g_test_add_func ("/figures/figure/faults", test_faults);
  g_test_add_func ("/figures/figure/refusals", test_refusals);
  g_test_add_func ("/figures/figure/sizes", test_sizes);
  g_test_add_func ("/figures/figure/any-size", test_any_size);
  g_test_add_func ("/figures/figure/instants-and-positions", test_instants_and_positions);
  g_test_add_func ("/figures/figure/csv-file", test_csv_file);
  g_test_add_func ("/figures/figure/frame", test_frame_takes_room);
  return g_test_run ();
}
