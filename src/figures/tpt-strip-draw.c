#include "config.h"

#include "tpt-strip-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* In em. */
#define ROW_LEAST 1.5
#define ROW_MOST 2.4
#define HEAD 1.5
#define SAMPLE 1.1 /* a tick before its name */
#define NUMBER_WIDTH 4.2
#define PAIR_WIDTH 6.6 /* of two numbers, one against the other */
#define NUMBERS_FROM 44.0 /* total width that has room for the numbers */

/* More rows than this may end below what is in sight. */
#define ROWS_SEEN 6

/* Units: below this a row is no longer a row. */
#define ROW_FLAT 4.0

static const TptText label_text = { TPT_COLOR_INK, .down = 0.5 };
static const TptText number_text = { TPT_COLOR_QUIET, .across = 1, .down = 0.5, .size = 0.9 };

/* Of what is set in bold when it is chosen: nothing moves then. */
static double
get_widest_label (const TptStrip *strip,
                  TptCanvas *canvas)
{
  TptText bold = label_text;
  double widest = 0;

  bold.bold = TRUE;
  for (guint i = 0; i < strip->rows->len; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);
      double width, height;

      tpt_canvas_measure (canvas, row->label, &bold, &width, &height);
      widest = MAX (widest, width);
    }

  return ceil (widest);
}

static double
get_head (const TptStripLayout *layout,
          const TptCanvas *canvas)
{
  if (layout->line > 0 && layout->n_sets > 1)
    return HEAD * canvas->em + layout->line;
  return layout->numbers || layout->n_sets > 1 || layout->line > 0 ? HEAD * canvas->em : 0;
}

/* Many rows are looked at through a window that may end before the axis below them. */
static double
get_line (const TptStrip *strip,
          const TptCanvas *canvas)
{
  return !canvas->style->framed && strip->rows->len > ROWS_SEEN ? HEAD * canvas->em : 0;
}

static void
set_columns (TptStripLayout *layout,
             const TptCanvas *canvas)
{
  double seen = layout->n_sets > 1 ? PAIR_WIDTH : NUMBER_WIDTH;

  layout->nights_width = (layout->own_effort ? PAIR_WIDTH : NUMBER_WIDTH) * canvas->em;
  layout->numbers_width = layout->numbers ? seen * canvas->em + layout->nights_width : 0;
}

static void
lay_out_rows (const TptStrip *strip,
              TptCanvas *canvas,
              double room,
              TptStripLayout *layout)
{
  guint n_rows = MAX (strip->rows->len, 1);
  double height = room / n_rows;

  layout->n_shown = strip->rows->len;
  layout->label_every = 1;
  layout->row_height = MIN (height, ROW_MOST * canvas->em);
  if (height >= ROW_LEAST * canvas->em)
    return;

  layout->row_height = MAX (height, ROW_FLAT);
  layout->n_shown = MIN (strip->rows->len, (guint) MAX (room / layout->row_height, 0));
  layout->label_every = (guint) ceil (ROW_LEAST * canvas->em / layout->row_height - 1e-9);
}

void
tpt_strip_lay_out (const TptStrip *strip,
                   TptCanvas *canvas,
                   const TptFigureRect *area,
                   TptStripLayout *layout)
{
  double em = canvas->em;
  double axis_height = tpt_time_axis_height (canvas->style);
  double head, left, right;

  layout->n_sets = strip->n_sets;
  layout->own_effort = strip->own_effort;
  layout->numbers = area->width >= NUMBERS_FROM * em && strip->rows->len > 0;
  layout->line = get_line (strip, canvas);
  set_columns (layout, canvas);
  layout->label_width = MIN (get_widest_label (strip, canvas), floor (area->width * 0.3));
  head = get_head (layout, canvas);
  layout->label_x = area->x + tpt_canvas_get_inset (canvas);
  left = layout->label_x + (layout->label_width > 0 ? layout->label_width + 0.7 * em : em);
  right = area->x + area->width - tpt_canvas_get_inset (canvas) - (layout->numbers ? layout->numbers_width : 0.7 * em);
  layout->plot = (TptFigureRect) { floor (left), area->y + head, MAX (floor (right) - floor (left), 1), 0 };

  lay_out_rows (strip, canvas, area->height - axis_height - head, layout);
  layout->plot.height = MAX (layout->row_height * layout->n_shown, 0);
  if (strip->rows->len == 0)
    layout->plot.height = MAX (area->height - axis_height, 1);
  layout->axis = (TptTimeAxis) { strip->range, layout->plot.x, layout->plot.x + layout->plot.width, strip->zone };
}

double
tpt_strip_get_height (const TptStrip *strip,
                      TptCanvas *canvas)
{
  double rows = MAX (strip->rows->len, 4) * (ROW_LEAST + 0.35) * canvas->em;

  return rows + tpt_time_axis_height (canvas->style) + 1.5 * canvas->em +
         (strip->n_sets > 1 ? get_line (strip, canvas) : 0);
}

TptFigureRect
tpt_strip_get_row_rect (const TptStripLayout *layout,
                        guint row)
{
  double left = layout->label_x;

  return (TptFigureRect) { left, layout->plot.y + row * layout->row_height,
                           layout->plot.x + layout->plot.width - left, layout->row_height };
}

/* A bar of a few minutes is still a bar. Where both sets have their own, each lies on its side
 * of the middle. */
TptFigureRect
tpt_strip_get_effort_rect (const TptStripLayout *layout,
                           guint row,
                           const TptRange *worked,
                           guint set)
{
  double left = tpt_time_axis_position (&layout->axis, worked->from);
  double right = MAX (tpt_time_axis_position (&layout->axis, worked->to), left + 1.5);
  double middle = layout->plot.y + (row + 0.5) * layout->row_height;
  double thickness = CLAMP (floor (0.36 * layout->row_height), 2, 9);
  double top = middle - thickness / 2;

  if (layout->own_effort)
    {
      thickness = CLAMP (floor (0.2 * layout->row_height), 1, 5);
      top = set == 0 ? middle - thickness - 0.5 : middle + 0.5;
    }
  return (TptFigureRect) { left, top, right - left, thickness };
}

TptFigureRect
tpt_strip_get_tick_rect (const TptStripLayout *layout,
                         guint row,
                         TptInstant at,
                         guint set)
{
  double x = MIN (floor (tpt_time_axis_position (&layout->axis, at)), layout->plot.x + layout->plot.width - 2);
  double middle = layout->plot.y + (row + 0.5) * layout->row_height;
  double height = MAX (floor (0.74 * layout->row_height), 3);

  if (layout->n_sets == 1)
    return (TptFigureRect) { x, middle - height / 2, 2, height };
  height = MAX (floor (0.42 * layout->row_height), 1.5);
  return (TptFigureRect) { x, set == 0 ? middle - height : middle, 2, height };
}

static double
get_row_alpha (const TptStripRow *row,
               const TptCanvas *canvas)
{
  return tpt_canvas_is_chosen (canvas, row->key) ? 1 : TPT_CANVAS_RECEDED;
}

static void
draw_chosen_row (const TptStripLayout *layout,
                 TptCanvas *canvas)
{
  int row = canvas->style->chosen_row;
  TptFigureRect rect;

  if (row < 0 || row >= (int) layout->n_shown)
    return;
  rect = tpt_strip_get_row_rect (layout, row);
  rect.x -= 0.4 * canvas->em;
  rect.width += 0.4 * canvas->em;
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.08);
  tpt_canvas_round_rect (canvas, &rect, 0.3 * canvas->em);
  cairo_fill (canvas->cr);
}

/* The bars of rows that are as strong as @alpha in one path. */
static void
draw_bars (const TptStrip *strip,
           const TptStripLayout *layout,
           TptCanvas *canvas,
           guint set,
           double alpha)
{
  for (guint i = 0; i < layout->n_shown; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);

      for (guint j = 0; j < row->effort->len && get_row_alpha (row, canvas) == alpha; j++)
        {
          const TptStripEffort *effort = &g_array_index (row->effort, TptStripEffort, j);
          TptFigureRect rect = tpt_strip_get_effort_rect (layout, i, &effort->worked, set);

          if (effort->set == set)
            tpt_canvas_round_rect (canvas, &rect, rect.height / 2);
        }
    }
  if (set == 0)
    tpt_canvas_set (canvas, TPT_COLOR_ACCENT_SOFT, alpha);
  else
    tpt_canvas_set (canvas, TPT_COLOR_SERIES_2, 0.3 * alpha);
  cairo_fill (canvas->cr);
}

static void
draw_effort (const TptStrip *strip,
             const TptStripLayout *layout,
             TptCanvas *canvas)
{
  for (guint set = 0; set < strip->n_sets; set++)
    {
      draw_bars (strip, layout, canvas, set, 1);
      if (canvas->style->chosen_keys != NULL)
        draw_bars (strip, layout, canvas, set, TPT_CANVAS_RECEDED);
    }
}

/* Dots, which are read as less than a bar in grey as well. */
static void
draw_gaps (const TptStrip *strip,
           const TptStripLayout *layout,
           TptCanvas *canvas)
{
  const double dots[] = { 2, 3 };

  cairo_save (canvas->cr);
  cairo_set_dash (canvas->cr, dots, 2, 0);
  for (guint i = 0; i < layout->n_shown; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);

      tpt_canvas_set (canvas, TPT_COLOR_QUIET, get_row_alpha (row, canvas));
      for (guint j = 0; j < row->gaps->len; j++)
        {
          const TptStripGap *gap = &g_array_index (row->gaps, TptStripGap, j);
          TptFigureRect rect = tpt_strip_get_effort_rect (layout, i, &gap->range, 0);
          double middle = floor (rect.y + rect.height / 2) + 0.5;

          tpt_canvas_rule (canvas, rect.x, middle, rect.x + rect.width, middle, 1);
        }
    }
  cairo_restore (canvas->cr);
}

/* Ticks on the same unit of the axis are drawn once: a row never costs more
 * than its width, however much was seen. */
static void
draw_row_ticks (const TptStripRow *row,
                const TptStripLayout *layout,
                TptCanvas *canvas,
                guint index,
                guint set,
                gboolean *taken,
                int width)
{
  memset (taken, 0, width * sizeof *taken);
  for (guint i = 0; i < row->detections->len; i++)
    {
      const TptStripDetection *detection = &g_array_index (row->detections, TptStripDetection, i);
      TptFigureRect rect = tpt_strip_get_tick_rect (layout, index, detection->at, set);
      int column = CLAMP ((int) (rect.x - layout->plot.x), 0, width - 1);

      if (detection->set != set || taken[column])
        continue;
      taken[column] = TRUE;
      cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height);
    }
  tpt_canvas_set (canvas, set == 0 ? TPT_COLOR_ACCENT : TPT_COLOR_SERIES_2, get_row_alpha (row, canvas));
  cairo_fill (canvas->cr);
}

static void
draw_ticks (const TptStrip *strip,
            const TptStripLayout *layout,
            TptCanvas *canvas)
{
  int width = (int) ceil (layout->plot.width) + 1;
  g_autofree gboolean *taken = g_new (gboolean, width);

  for (guint set = 0; set < strip->n_sets; set++)
    for (guint i = 0; i < layout->n_shown; i++)
      draw_row_ticks (g_ptr_array_index (strip->rows, i), layout, canvas, i, set, taken, width);
}

/* "14", or "14 / 3" of a pair. */
static char *
join_numbers (const TptStrip *strip,
              double first,
              double second)
{
  g_autofree char *one = tpt_words_number (first);
  g_autofree char *other = tpt_words_number (second);

  return strip->n_sets > 1 ? g_strdup_printf ("%s / %s", one, other) : g_steal_pointer (&one);
}

static void
write_numbers (const TptStrip *strip,
               const TptStripRow *row,
               const TptStripLayout *layout,
               TptCanvas *canvas,
               double right,
               double middle)
{
  double first = round (tpt_strip_get_nights (strip, row, 0)), second = round (tpt_strip_get_nights (strip, row, 1));
  g_autofree char *found = join_numbers (strip, row->n_seen[0], row->n_seen[1]);
  g_autofree char *worked = strip->own_effort ? join_numbers (strip, first, second) : tpt_words_number (first);
  TptText strong = number_text;

  strong.role = row->detections->len > 0 && tpt_canvas_is_chosen (canvas, row->key) ? TPT_COLOR_INK : TPT_COLOR_QUIET;
  tpt_canvas_write (canvas, found, right - layout->nights_width, middle, &strong);
  tpt_canvas_write (canvas, worked, right, middle, &number_text);
}

/* Which ticks are of what, above the rows: a sample of each, in its place and colour. */
static void
draw_legend (const TptStrip *strip,
             const TptStripLayout *layout,
             TptCanvas *canvas,
             double right)
{
  double room = (right - layout->label_x - layout->numbers_width) / TPT_STRIP_SETS;
  double middle = floor (layout->plot.y - layout->line - 0.8 * canvas->em);

  for (guint set = 0; strip->n_sets > 1 && set < strip->n_sets; set++)
    {
      TptText text = { TPT_COLOR_INK, .size = 0.9, .down = 0.5, .width = MAX (room - 1.6 * SAMPLE * canvas->em, 1) };
      double x = floor (layout->label_x + set * room);
      double height = floor (0.55 * canvas->em);

      tpt_canvas_set (canvas, set == 0 ? TPT_COLOR_ACCENT_SOFT : TPT_COLOR_SERIES_2, set == 0 ? 1 : 0.3);
      cairo_rectangle (canvas->cr, x, middle - 1, 0.7 * canvas->em, 2);
      cairo_fill (canvas->cr);
      tpt_canvas_set (canvas, set == 0 ? TPT_COLOR_ACCENT : TPT_COLOR_SERIES_2, 1);
      cairo_rectangle (canvas->cr, x + floor (0.25 * canvas->em), set == 0 ? middle - height : middle, 2, height);
      cairo_fill (canvas->cr);
      tpt_canvas_write (canvas, strip->names[set], x + SAMPLE * canvas->em, middle, &text);
    }
}

static void
write_rows (const TptStrip *strip,
            const TptStripLayout *layout,
            TptCanvas *canvas,
            double right)
{
  TptText text = label_text;
  TptText head = number_text;

  text.width = layout->label_width + 1;
  for (guint i = 0; i < layout->n_shown; i += layout->label_every)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);
      double middle = layout->plot.y + (i + 0.5) * layout->row_height;
      gboolean chosen = tpt_canvas_is_chosen (canvas, row->key);

      text.bold = canvas->style->chosen_row == (int) i || (canvas->style->chosen_keys != NULL && chosen);
      text.role = chosen ? TPT_COLOR_INK : TPT_COLOR_QUIET;
      tpt_canvas_write (canvas, row->label, layout->label_x, middle, &text);
      if (layout->numbers)
        write_numbers (strip, row, layout, canvas, right, middle);
    }

  if (layout->numbers)
    {
      double y = layout->plot.y - 0.85 * canvas->em;

      head.size = 0.82;
      /* Translators: head of a narrow column, number of detections. */
      tpt_canvas_write (canvas, _("seen"), right - layout->nights_width, y, &head);
      /* Translators: head of a narrow column, trap nights. */
      tpt_canvas_write (canvas, _("nights"), right, y, &head);
    }
}

void
tpt_strip_paint (const TptStrip *strip,
                 TptCanvas *canvas,
                 const TptFigureRect *area)
{
  TptStripLayout layout;
  double bottom;

  tpt_strip_lay_out (strip, canvas, area, &layout);
  if (strip->rows->len == 0)
    {
      tpt_canvas_say (canvas, area, _("No station was at work in this period, and nothing was seen."));
      return;
    }

  bottom = layout.plot.y + layout.plot.height;
  tpt_time_axis_draw_grid (&layout.axis, canvas->cr, layout.plot.y, bottom + 0.3 * canvas->em, canvas->style);
  draw_chosen_row (&layout, canvas);
  draw_gaps (strip, &layout, canvas);
  draw_effort (strip, &layout, canvas);
  tpt_time_axis_draw_brush (&layout.axis, canvas->cr, layout.plot.y, bottom, canvas->style);
  draw_ticks (strip, &layout, canvas);
  draw_legend (strip, &layout, canvas, area->x + area->width - tpt_canvas_get_inset (canvas));
  write_rows (strip, &layout, canvas, area->x + area->width - tpt_canvas_get_inset (canvas));
  tpt_time_axis_draw_labels (&layout.axis, canvas->cr, bottom, canvas->style);
  if (layout.line > 0)
    tpt_time_axis_draw_line (&layout.axis, canvas->cr, layout.plot.y - 0.85 * canvas->em, canvas->style);
  tpt_canvas_say_rest (canvas, strip->rows->len - layout.n_shown, layout.label_x, area->y + area->height);
}
