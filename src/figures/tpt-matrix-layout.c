#include "config.h"

#include "tpt-matrix-private.h"
#include "tpt-words.h"

/* In em. */
#define CELL 1.8          /* height */
#define CELL_WIDE 2.8     /* at most, unless names have room beside each other */
#define CELL_WITH_NAME 8.0
#define ROW_NAMED 1.3     /* the least height that has room for a name */
#define COLUMN_NAMED 1.08 /* the least width, for a name that reads upwards */
#define NAMES_MOST 7.5
#define TOTALS_FROM 30.0  /* total width that has room for totals */
#define HEAD 1.4          /* above the totals */
#define REST 1.4
#define LEGEND_GAP 0.8

/* Units: below these a cell is no longer a cell. */
#define ROW_FLAT 4.0
#define COLUMN_FLAT 3.0

#define DISC 0.88 /* of a cell */
#define DISC_LEAST 7.0 /* units, for the largest: below it sizes cannot be told apart */
#define DISC_SEEN 2.4  /* units, for the smallest */
#define DEPTH_LEAST 0.3

const TptText tpt_matrix_row_text = { TPT_COLOR_INK, .down = 0.5 };
const TptText tpt_matrix_column_text = { TPT_COLOR_INK, .size = 0.9 };
const TptText tpt_matrix_number_text = { TPT_COLOR_QUIET, .size = 0.85, .across = 1, .down = 0.5 };

static double
measure (TptCanvas *canvas, const char *words, const TptText *text)
{
  double width, height;

  tpt_canvas_measure (canvas, words, text, &width, &height);
  return ceil (width);
}

static double
measure_labels (const TptMatrix *matrix, TptCanvas *canvas)
{
  double widest = 0;

  for (guint i = 0; i < matrix->species->len; i++)
    widest = MAX (widest, measure (canvas, tpt_matrix_get_species (matrix, i)->label, &tpt_matrix_row_text));
  return widest;
}

static double
measure_names (const TptMatrix *matrix, TptCanvas *canvas)
{
  double widest = 0;

  for (guint i = 0; i < matrix->stations->len; i++)
    widest = MAX (widest, measure (canvas, tpt_matrix_get_station (matrix, i)->label, &tpt_matrix_column_text));
  return widest;
}

static double
measure_totals (const TptMatrix *matrix, TptCanvas *canvas, double em)
{
  double widest = 2.6 * em; /* its head */

  for (guint i = 0; i < matrix->species->len; i++)
    {
      g_autofree char *words = tpt_words_number ((double) tpt_matrix_get_total (matrix, i));

      widest = MAX (widest, measure (canvas, words, &tpt_matrix_number_text));
    }
  return widest;
}

static double
measure_nights (const TptMatrix *matrix, TptCanvas *canvas)
{
  double widest = 0;

  for (guint i = 0; i < matrix->stations->len; i++)
    {
      g_autofree char *words = tpt_words_number (round (tpt_matrix_get_station (matrix, i)->nights));

      widest = MAX (widest, measure (canvas, words, &tpt_matrix_number_text));
    }
  return widest;
}

/* Across: names of species, cells, totals. */
static void
lay_out_columns (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area, TptMatrixLayout *layout)
{
  double em = canvas->em, inset = tpt_canvas_get_inset (canvas), n = matrix->stations->len;
  double names = measure_names (matrix, canvas) + 0.6 * em;
  double totals = area->width >= TOTALS_FROM * em ? measure_totals (matrix, canvas, em) + 0.8 * em : 0;
  double left, room;

  layout->label_x = area->x + inset;
  layout->label_width = MIN (measure_labels (matrix, canvas), floor (0.3 * area->width));
  left = floor (layout->label_x + layout->label_width + 0.7 * em);
  room = MAX (area->x + area->width - inset - totals - left, 1);

  layout->names_turned = room / n < names || names > CELL_WITH_NAME * em;
  layout->cell_width = MIN (room / n, layout->names_turned ? CELL_WIDE * em : MAX (names, CELL_WIDE * em));
  layout->cell_width = MAX (layout->cell_width, MIN (COLUMN_FLAT, room));
  layout->n_columns = MIN (matrix->stations->len, (guint) (room / layout->cell_width + 1e-6));
  layout->column_every =
    layout->names_turned ? (guint) MAX (ceil (COLUMN_NAMED * em / layout->cell_width - 1e-9), 1) : 1;
  layout->names_height =
    layout->names_turned ? MIN (MIN (names, NAMES_MOST * em), floor (0.3 * area->height)) : 1.4 * em;
  layout->plot.x = left;
  layout->plot.width = layout->cell_width * layout->n_columns;
  layout->totals = totals > 0 ? left + layout->plot.width + totals : NAN;
}

/* Nights stand below the cells when a column is wide enough for them, and rows stay high
 * enough for their names. */
static void
choose_nights (const TptMatrix *matrix, TptCanvas *canvas, double room, TptMatrixLayout *layout)
{
  double em = canvas->em, widest = measure_nights (matrix, canvas);
  double height;

  layout->nights_turned = widest + 0.4 * em > layout->cell_width;
  height = layout->nights_turned ? widest + 0.7 * em : 1.4 * em;
  if (layout->column_every == 1 && room - height >= ROW_NAMED * em * matrix->species->len)
    layout->nights_height = height;
}

/* Down: head, cells, nights, names of stations, what has no room, legend. */
static void
lay_out_rows (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area, TptMatrixLayout *layout)
{
  double em = canvas->em, head = isnan (layout->totals) ? 0.3 * em : HEAD * em, rest = 0;
  double width = area->width - 2 * tpt_canvas_get_inset (canvas);
  double legend = tpt_matrix_set_legend (matrix, canvas, layout, 0, 0, width, FALSE);
  double room = area->height - head - layout->names_height - LEGEND_GAP * em - legend;
  guint n = matrix->species->len;

  choose_nights (matrix, canvas, room, layout);
  room = MAX (room - layout->nights_height, 1);
  if (layout->n_columns < matrix->stations->len || room / n < ROW_FLAT)
    rest = REST * em;
  room = MAX (room - rest, 1);
  layout->cell_height = CLAMP (room / n, ROW_FLAT, CELL * em);
  layout->n_rows = MIN (n, (guint) (room / layout->cell_height + 1e-6));
  layout->row_every = (guint) MAX (ceil (ROW_NAMED * em / layout->cell_height - 1e-9), 1);
  layout->plot.y = floor (area->y + head);
  layout->plot.height = layout->cell_height * layout->n_rows;
  layout->rest = rest > 0 ? layout->plot.y + layout->plot.height + layout->nights_height + layout->names_height : NAN;
  layout->legend = layout->plot.y + layout->plot.height + layout->nights_height + layout->names_height + rest +
    LEGEND_GAP * em;
  layout->bottom = layout->legend + legend;
}

void
tpt_matrix_lay_out (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area, TptMatrixLayout *layout)
{
  *layout = (TptMatrixLayout) { .plot = *area, .totals = NAN, .rest = NAN };
  if (tpt_matrix_is_empty (matrix))
    return;
  layout->most = tpt_matrix_get_most (matrix);
  lay_out_columns (matrix, canvas, area, layout);
  layout->disc = DISC * MIN (layout->cell_width, CELL * canvas->em);
  layout->shaded = layout->disc < DISC_LEAST;
  lay_out_rows (matrix, canvas, area, layout);
  layout->disc = DISC * MIN (layout->cell_width, layout->cell_height);
  layout->shaded = layout->disc < DISC_LEAST;
}

double
tpt_matrix_get_height (const TptMatrix *matrix, TptCanvas *canvas, double width)
{
  const TptFigureRect area = { 0, 0, width, 1e6 };
  TptMatrixLayout layout;

  if (tpt_matrix_is_empty (matrix))
    return 10 * canvas->em;
  tpt_matrix_lay_out (matrix, canvas, &area, &layout);
  return ceil (layout.bottom) + 1;
}

TptFigureRect
tpt_matrix_get_cell_rect (const TptMatrixLayout *layout, guint row, guint column)
{
  double gap = MIN (layout->cell_width, layout->cell_height) >= 6 ? 1 : 0;

  return (TptFigureRect) { layout->plot.x + column * layout->cell_width + gap,
                           layout->plot.y + row * layout->cell_height + gap, layout->cell_width - 2 * gap,
                           layout->cell_height - 2 * gap };
}

TptFigureRect
tpt_matrix_get_label_rect (const TptMatrixLayout *layout, guint row)
{
  return (TptFigureRect) { layout->label_x, layout->plot.y + row * layout->cell_height, layout->plot.x - layout->label_x,
                          layout->cell_height };
}

TptFigureRect
tpt_matrix_get_name_rect (const TptMatrixLayout *layout, guint column)
{
  return (TptFigureRect) { layout->plot.x + column * layout->cell_width, layout->plot.y + layout->plot.height,
                           layout->cell_width, layout->nights_height + layout->names_height };
}

double
tpt_matrix_get_depth (const TptMatrix *matrix, const TptMatrixLayout *layout, double value)
{
  if (matrix->measure == TPT_MATRIX_PRESENCE || isnan (value))
    return 1;
  return DEPTH_LEAST + (1 - DEPTH_LEAST) * sqrt (CLAMP (value / layout->most, 0, 1));
}

/* The least disc can still be seen. */
double
tpt_matrix_get_diameter (const TptMatrix *matrix, const TptMatrixLayout *layout, double value)
{
  if (matrix->measure == TPT_MATRIX_PRESENCE)
    return MAX (0.7 * layout->disc, DISC_SEEN);
  return MAX (layout->disc * sqrt (CLAMP (value / layout->most, 0, 1)), DISC_SEEN);
}
