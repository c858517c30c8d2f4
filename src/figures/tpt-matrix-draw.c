#include "config.h"

#include "tpt-matrix-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* Units. */
#define ROUNDNESS 2.0
#define ROUND_FROM 14.0

/* Which of a number of rows or columns are chosen; none of them means all. */
static gboolean *
find_chosen (TptCanvas *canvas, const TptMatrix *matrix, gboolean columns, guint n)
{
  const char *const *keys = canvas->style->chosen_keys;
  gboolean *chosen = g_new0 (gboolean, n + 1);
  gboolean any = FALSE;

  for (guint i = 0; keys != NULL && i < n; i++)
    {
      const char *key = columns ? tpt_matrix_get_station (matrix, i)->key : tpt_matrix_get_species (matrix, i)->key;

      chosen[i] = key != NULL && g_strv_contains (keys, key);
      any |= chosen[i];
    }
  for (guint i = 0; !any && i < n; i++)
    chosen[i] = TRUE;
  chosen[n] = any;
  return chosen;
}

/* Where there is not room for every name the chosen ones come first, then every so
 * manieth as far as it keeps apart from them. */
static gboolean *
find_named (const gboolean *chosen, guint n, guint every)
{
  gboolean *named = g_new0 (gboolean, n + 1);

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < n; i++)
      {
        gboolean wanted = pass == 0 ? chosen[n] && chosen[i] : i % every == 0;
        guint from = i >= every ? i - every + 1 : 0;

        for (guint j = from; wanted && j < n && j < i + every; j++)
          wanted = !named[j];
        if (wanted)
          named[i] = TRUE;
      }
  return named;
}

void
tpt_matrix_draw_disc (TptCanvas *canvas, double x, double y, double diameter, gboolean ring, double alpha)
{
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, alpha);
  cairo_new_path (canvas->cr);
  cairo_arc (canvas->cr, x, y, ring ? MAX (diameter / 2 - 0.75, 0.75) : diameter / 2, 0, 2 * G_PI);
  if (!ring)
    {
      cairo_fill (canvas->cr);
      return;
    }
  cairo_set_line_width (canvas->cr, 1.5);
  cairo_stroke (canvas->cr);
}

void
tpt_matrix_draw_square (TptCanvas *canvas, const TptFigureRect *rect)
{
  tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
  tpt_canvas_round_rect (canvas, rect, ROUNDNESS);
  cairo_fill (canvas->cr);
}

void
tpt_matrix_draw_shade (TptCanvas *canvas, const TptFigureRect *rect, double depth)
{
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, depth);
  cairo_rectangle (canvas->cr, rect->x, rect->y, rect->width, rect->height);
  cairo_fill (canvas->cr);
}

static void
draw_cell (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, guint row, guint column,
           double alpha)
{
  TptFigureRect rect = tpt_matrix_get_cell_rect (layout, row, column);
  double value = tpt_matrix_get_value (matrix, row, column);
  gboolean ring = isnan (value) || tpt_matrix_is_beyond (matrix, layout->most, row, column);

  if (tpt_matrix_get_count (matrix, row, column) == 0)
    return;
  if (layout->shaded && !ring)
    {
      tpt_matrix_draw_shade (canvas, &rect, alpha * tpt_matrix_get_depth (matrix, layout, value));
      return;
    }
  tpt_matrix_draw_disc (canvas, rect.x + rect.width / 2, rect.y + rect.height / 2,
                        isnan (value) ? layout->disc / 2 : tpt_matrix_get_diameter (matrix, layout, value), ring,
                        alpha);
}

/* All squares of one paleness at once: plain ones where round corners cannot be seen. */
static void
draw_squares (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, const gboolean *rows,
              const gboolean *columns, gboolean chosen)
{
  gboolean plain = MIN (layout->cell_width, layout->cell_height) < ROUND_FROM;

  cairo_new_path (canvas->cr);
  for (guint j = 0; j < layout->n_columns; j++)
    for (guint i = 0; tpt_matrix_get_station (matrix, j)->nights > 0 && i < layout->n_rows; i++)
      {
        TptFigureRect rect = tpt_matrix_get_cell_rect (layout, i, j);

        if ((rows[i] && columns[j]) != chosen)
          continue;
        if (plain)
          cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height);
        else
          tpt_canvas_round_rect (canvas, &rect, ROUNDNESS);
      }
  tpt_canvas_set (canvas, TPT_COLOR_FAINT, chosen ? 1 : TPT_CANVAS_RECEDED);
  cairo_fill (canvas->cr);
}

static void
draw_cells (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, const gboolean *rows,
            const gboolean *columns)
{
  draw_squares (matrix, canvas, layout, rows, columns, FALSE);
  draw_squares (matrix, canvas, layout, rows, columns, TRUE);
  for (guint i = 0; i < layout->n_rows; i++)
    for (guint j = 0; j < layout->n_columns; j++)
      draw_cell (matrix, canvas, layout, i, j, rows[i] && columns[j] ? 1 : TPT_CANVAS_RECEDED);
}

static void
draw_chosen_row (TptCanvas *canvas, const TptMatrixLayout *layout)
{
  int row = canvas->style->chosen_row;
  TptFigureRect rect;

  if (row < 0 || row >= (int) layout->n_rows)
    return;
  rect = tpt_matrix_get_label_rect (layout, (guint) row);
  rect.x -= 0.4 * canvas->em;
  rect.width += layout->plot.width + 0.4 * canvas->em;
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.08);
  tpt_canvas_round_rect (canvas, &rect, 0.3 * canvas->em);
  cairo_fill (canvas->cr);
}

/* What is chosen is set bold: colour is not all that tells it. */
static TptText
set_weight (TptText text, gboolean chosen, gboolean any)
{
  text.bold = any && chosen;
  if (any && !chosen)
    text.role = TPT_COLOR_QUIET;
  return text;
}

static void
write_rows (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, const gboolean *chosen)
{
  g_autofree gboolean *named = find_named (chosen, layout->n_rows, layout->row_every);

  for (guint i = 0; i < layout->n_rows; i++)
    {
      TptFigureRect rect = tpt_matrix_get_label_rect (layout, i);
      TptText text = set_weight (tpt_matrix_row_text, chosen[i], chosen[layout->n_rows]);
      g_autofree char *total = tpt_words_number ((double) tpt_matrix_get_total (matrix, i));

      text.width = layout->label_width + 1;
      text.bold |= canvas->style->chosen_row == (int) i;
      if (!named[i])
        continue;
      tpt_canvas_write (canvas, tpt_matrix_get_species (matrix, i)->label, rect.x, rect.y + rect.height / 2, &text);
      if (!isnan (layout->totals))
        tpt_canvas_write (canvas, total, layout->totals, rect.y + rect.height / 2, &tpt_matrix_number_text);
    }
}

static void
write_head (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout)
{
  TptText text = tpt_matrix_number_text;

  if (isnan (layout->totals))
    return;
  text.size = 0.82;
  text.down = 1;
  /* Translators: heads of a narrow column: number of stations; number of detections. */
  tpt_canvas_write (canvas, matrix->measure == TPT_MATRIX_PRESENCE ? _("at") : _("seen"), layout->totals,
                    layout->plot.y - 0.2 * canvas->em, &text);
}

/* Reads upwards and ends at @y, or stands below it. */
static void
write_across (TptCanvas *canvas, const char *words, double x, double y, gboolean turned, TptText text)
{
  text.across = turned ? 1 : 0.5;
  text.down = turned ? 0.5 : 0;
  if (!turned)
    {
      tpt_canvas_write (canvas, words, x, y, &text);
      return;
    }
  cairo_save (canvas->cr);
  cairo_translate (canvas->cr, x, y);
  cairo_rotate (canvas->cr, -G_PI_2);
  tpt_canvas_write (canvas, words, 0, 0, &text);
  cairo_restore (canvas->cr);
}

static void
write_columns (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, const gboolean *chosen)
{
  g_autofree gboolean *named = find_named (chosen, layout->n_columns, layout->column_every);
  double below = layout->plot.y + layout->plot.height + 0.3 * canvas->em;

  for (guint i = 0; i < layout->n_columns; i++)
    {
      const TptMatrixStation *station = tpt_matrix_get_station (matrix, i);
      TptText text = set_weight (tpt_matrix_column_text, chosen[i], chosen[layout->n_columns]);
      double x = layout->plot.x + (i + 0.5) * layout->cell_width;
      g_autofree char *nights = tpt_words_number (round (station->nights));

      if (!named[i])
        continue;
      if (!(station->nights > 0))
        text.role = TPT_COLOR_QUIET;
      text.width = layout->names_turned ? layout->names_height - 0.4 * canvas->em : layout->cell_width;
      if (layout->names_height >= 1.4 * canvas->em)
        write_across (canvas, station->label, x, below + layout->nights_height, layout->names_turned, text);
      if (layout->nights_height > 0)
        write_across (canvas, nights, x, below, layout->nights_turned, tpt_matrix_number_text);
    }
}

static void
write_nights_head (TptCanvas *canvas, const TptMatrixLayout *layout)
{
  TptText text = tpt_matrix_number_text;

  if (!(layout->nights_height > 0))
    return;
  text.size = 0.82;
  text.down = 0;
  text.width = layout->plot.x - layout->label_x - 0.5 * canvas->em;
  /* Translators: head of a row of numbers below stations, trap nights. */
  tpt_canvas_write (canvas, _("nights"), layout->plot.x - 0.7 * canvas->em,
                    layout->plot.y + layout->plot.height + 0.3 * canvas->em, &text);
}

static void
say_rest (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, double width)
{
  TptText text = { TPT_COLOR_QUIET, .size = 0.9, .width = width };
  guint species = matrix->species->len - layout->n_rows, stations = matrix->stations->len - layout->n_columns;
  g_autofree char *words = NULL;

  if (isnan (layout->rest) || (species == 0 && stations == 0))
    return;
  if (stations == 0)
    words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more species has no room here",
                                          "%u more species have no room here", species), species);
  else if (species == 0)
    words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more station has no room here",
                                          "%u more stations have no room here", stations), stations);
  else
    /* Translators: both are numbers of more than one. */
    words = g_strdup_printf (_("No room here for more: %1$u species, %2$u stations"), species, stations);
  tpt_canvas_write (canvas, words, layout->label_x, layout->rest + 0.1 * canvas->em, &text);
}

void
tpt_matrix_paint (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area)
{
  double width = area->width - 2 * tpt_canvas_get_inset (canvas);
  g_autofree gboolean *rows = NULL, *columns = NULL;
  TptMatrixLayout layout;

  if (tpt_matrix_is_empty (matrix))
    {
      tpt_canvas_say (canvas, area, tpt_matrix_say_empty (matrix));
      return;
    }
  tpt_matrix_lay_out (matrix, canvas, area, &layout);
  rows = find_chosen (canvas, matrix, FALSE, layout.n_rows);
  columns = find_chosen (canvas, matrix, TRUE, layout.n_columns);
  draw_chosen_row (canvas, &layout);
  draw_cells (matrix, canvas, &layout, rows, columns);
  write_head (matrix, canvas, &layout);
  write_rows (matrix, canvas, &layout, rows);
  write_columns (matrix, canvas, &layout, columns);
  write_nights_head (canvas, &layout);
  say_rest (matrix, canvas, &layout, width);
  tpt_matrix_set_legend (matrix, canvas, &layout, layout.label_x, layout.legend, width, TRUE);
}
