#include "config.h"

#include "tpt-matrix-private.h"
#include "tpt-number.h"

/* Of the effort of the station that worked longest: on less, a rate says too little to
 * set the scale. */
#define LITTLE_EFFORT 0.1

static const TptFigureKind matrix_kind;

static void
free_species (gpointer data)
{
  TptMatrixSpecies *species = data;

  g_free (species->label);
  g_free (species->key);
  g_array_unref (species->counts);
  g_free (species);
}

static void
free_station (gpointer data)
{
  TptMatrixStation *station = data;

  g_free (station->label);
  g_free (station->key);
  g_free (station);
}

static void
free_matrix (gpointer data)
{
  TptMatrix *matrix = data;

  g_ptr_array_unref (matrix->species);
  g_ptr_array_unref (matrix->stations);
  g_free (matrix);
}

TptFigure *
tpt_matrix_new (TptMatrixMeasure measure)
{
  TptMatrix *matrix = g_new0 (TptMatrix, 1);

  matrix->measure = measure;
  matrix->species = g_ptr_array_new_with_free_func (free_species);
  matrix->stations = g_ptr_array_new_with_free_func (free_station);
  return tpt_figure_new (&matrix_kind, matrix);
}

int
tpt_matrix_add_station (TptFigure *figure, const char *label, const char *key, double nights)
{
  TptMatrix *matrix = tpt_figure_get_data (figure, &matrix_kind);
  TptMatrixStation *station = g_new0 (TptMatrixStation, 1);

  station->label = g_strdup (label);
  station->key = g_strdup (key);
  station->nights = nights;
  g_ptr_array_add (matrix->stations, station);
  return (int) matrix->stations->len - 1;
}

int
tpt_matrix_add_species (TptFigure *figure, const char *label, const char *key)
{
  TptMatrix *matrix = tpt_figure_get_data (figure, &matrix_kind);
  TptMatrixSpecies *species = g_new0 (TptMatrixSpecies, 1);

  species->label = g_strdup (label);
  species->key = g_strdup (key);
  species->counts = g_array_new (FALSE, TRUE, sizeof (gint64));
  g_ptr_array_add (matrix->species, species);
  return (int) matrix->species->len - 1;
}

void
tpt_matrix_set (TptFigure *figure, int species, int station, gint64 detections)
{
  TptMatrix *matrix = tpt_figure_get_data (figure, &matrix_kind);
  GArray *counts;

  g_return_if_fail (species >= 0 && species < (int) matrix->species->len);
  g_return_if_fail (station >= 0 && station < (int) matrix->stations->len);

  counts = ((TptMatrixSpecies *) g_ptr_array_index (matrix->species, species))->counts;
  if (counts->len <= (guint) station)
    g_array_set_size (counts, (guint) station + 1);
  g_array_index (counts, gint64, station) = detections;
}

gboolean
tpt_matrix_is_empty (const TptMatrix *matrix)
{
  return matrix->species->len == 0 || matrix->stations->len == 0;
}

const TptMatrixSpecies *
tpt_matrix_get_species (const TptMatrix *matrix, guint row)
{
  return g_ptr_array_index (matrix->species, row);
}

const TptMatrixStation *
tpt_matrix_get_station (const TptMatrix *matrix, guint column)
{
  return g_ptr_array_index (matrix->stations, column);
}

gint64
tpt_matrix_get_count (const TptMatrix *matrix, guint row, guint column)
{
  const GArray *counts = tpt_matrix_get_species (matrix, row)->counts;

  return column < counts->len ? g_array_index (counts, gint64, column) : 0;
}

double
tpt_matrix_get_value (const TptMatrix *matrix, guint row, guint column)
{
  double count = (double) tpt_matrix_get_count (matrix, row, column);
  double nights = tpt_matrix_get_station (matrix, column)->nights;

  if (matrix->measure == TPT_MATRIX_RATE)
    return nights > 0 ? 100 * count / nights : NAN;
  return matrix->measure == TPT_MATRIX_PRESENCE ? count > 0 : count;
}

static double
get_least_nights (const TptMatrix *matrix)
{
  double most = 0;

  for (guint j = 0; j < matrix->stations->len; j++)
    most = MAX (most, tpt_matrix_get_station (matrix, j)->nights);
  return LITTLE_EFFORT * most;
}

double
tpt_matrix_get_most (const TptMatrix *matrix)
{
  double least = matrix->measure == TPT_MATRIX_RATE ? get_least_nights (matrix) : 0, most = 0;

  for (guint j = 0; j < matrix->stations->len; j++)
    for (guint i = 0; tpt_matrix_get_station (matrix, j)->nights >= least && i < matrix->species->len; i++)
      {
        double value = tpt_matrix_get_value (matrix, i, j);

        most = isnan (value) ? most : MAX (most, value);
      }
  return most > 0 ? most : 1;
}

gboolean
tpt_matrix_is_beyond (const TptMatrix *matrix, double most, guint row, guint column)
{
  return tpt_matrix_get_value (matrix, row, column) > most;
}

static void
draw_matrix (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  tpt_matrix_paint (tpt_figure_get_data (figure, &matrix_kind), canvas, area);
}

static double
get_matrix_height (TptFigure *figure, TptCanvas *canvas, double width)
{
  return tpt_matrix_get_height (tpt_figure_get_data (figure, &matrix_kind), canvas, width);
}

static TptFigureRect
get_matrix_plot (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  TptMatrixLayout layout;

  tpt_matrix_lay_out (tpt_figure_get_data (figure, &matrix_kind), canvas, area, &layout);
  return layout.plot;
}

static void
hit_cell (const TptMatrix *matrix, const TptMatrixLayout *layout, guint row, guint column, TptHitTest *test)
{
  TptFigureRect rect = tpt_matrix_get_cell_rect (layout, row, column);

  if (!tpt_hit_test_wants (test, TPT_LAYER_BAR, &rect))
    return;
  tpt_hit_test_take (test, TPT_LAYER_BAR, &rect, TPT_HIT_CELL, (int) row, (int) column,
                     tpt_matrix_describe_cell (matrix, row, column), tpt_matrix_get_species (matrix, row)->key);
  tpt_hit_test_tell (test, tpt_matrix_get_station (matrix, column)->key, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT },
                     NAN, NAN);
}

static void
hit_names (const TptMatrix *matrix, const TptMatrixLayout *layout, TptHitTest *test)
{
  for (guint i = 0; i < layout->n_rows; i++)
    {
      TptFigureRect rect = tpt_matrix_get_label_rect (layout, i);

      if (tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
        tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_ROW, (int) i, -1,
                           tpt_matrix_describe_species (matrix, i), tpt_matrix_get_species (matrix, i)->key);
    }
  for (guint j = 0; j < layout->n_columns; j++)
    {
      TptFigureRect rect = tpt_matrix_get_name_rect (layout, j);

      if (!tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
        continue;
      tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_STATION, -1, (int) j,
                         tpt_matrix_describe_station (matrix, j), NULL);
      tpt_hit_test_tell (test, tpt_matrix_get_station (matrix, j)->key, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT },
                         NAN, NAN);
    }
}

/* The cell is known from the place: no need to ask all of them. */
static void
hit_matrix (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test)
{
  const TptMatrix *matrix = tpt_figure_get_data (figure, &matrix_kind);
  TptMatrixLayout layout;
  int row, column;

  tpt_matrix_lay_out (matrix, canvas, area, &layout);
  if (layout.n_rows == 0 || layout.n_columns == 0)
    return;
  hit_names (matrix, &layout, test);
  column = (int) floor ((test->x - layout.plot.x) / layout.cell_width);
  row = (int) floor ((test->y - layout.plot.y) / layout.cell_height);
  if (row >= 0 && row < (int) layout.n_rows && column >= 0 && column < (int) layout.n_columns)
    hit_cell (matrix, &layout, (guint) row, (guint) column, test);
}

static void
add_cell (const TptMatrix *matrix, guint row, guint column, TptFigureTable *table)
{
  const TptMatrixStation *station = tpt_matrix_get_station (matrix, column);
  gint64 count = tpt_matrix_get_count (matrix, row, column);

  if (!(station->nights > 0) && count == 0)
    return;
  tpt_figure_table_add (table, g_strdup (tpt_matrix_get_species (matrix, row)->label), g_strdup (station->label),
                        g_strdup_printf ("%" G_GINT64_FORMAT, count), tpt_number_format_real (station->nights),
                        tpt_number_format_real (station->nights > 0 ? 100 * (double) count / station->nights : NAN),
                        NULL);
}

static void
add_matrix_rows (TptFigure *figure, TptFigureTable *table)
{
  const TptMatrix *matrix = tpt_figure_get_data (figure, &matrix_kind);

  for (guint i = 0; i < matrix->species->len; i++)
    for (guint j = 0; j < matrix->stations->len; j++)
      add_cell (matrix, i, j, table);
}

static char *
describe_matrix (TptFigure *figure)
{
  return tpt_matrix_describe (tpt_figure_get_data (figure, &matrix_kind));
}

static char *
explain_matrix (TptFigure *figure)
{
  return tpt_matrix_explain (tpt_figure_get_data (figure, &matrix_kind));
}

static const char *const matrix_columns[] = {
  "species", "station", "detections", "trap_nights", "per_100_nights", NULL
};

static const TptFigureKind matrix_kind = {
  .name = "matrix",
  .columns = matrix_columns,
  .draw = draw_matrix,
  .height = get_matrix_height,
  .plot = get_matrix_plot,
  .hit = hit_matrix,
  .add_rows = add_matrix_rows,
  .describe = describe_matrix,
  .explain = explain_matrix,
  .free_data = free_matrix,
};
