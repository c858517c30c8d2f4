#include "config.h"

#include "tpt-due-figure-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-due.h"
#include "tpt-words.h"

static int
compare_codes (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(const char *const *) a, *(const char *const *) b);
}

/* (element-type utf8): codes in their order; a station keeps its number whatever
 * is due. */
static GPtrArray *
number_stations (GListModel *stations)
{
  GPtrArray *codes = g_ptr_array_new ();

  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      g_ptr_array_add (codes, (gpointer) tpt_station_item_get_code (item));
    }
  g_ptr_array_sort (codes, compare_codes);
  return codes;
}

static char *
name_station (TptStationItem *item, GPtrArray *codes, gboolean exact)
{
  guint number = 0;

  if (exact)
    return g_strdup (tpt_station_item_get_title (item));
  while (number < codes->len && !g_str_equal (codes->pdata[number], tpt_station_item_get_code (item)))
    number++;
  return g_strdup_printf (_("Station %u"), number + 1);
}

/* What people call a unit may name the place it stands at: its kind does not. */
static char *
name_kind (const TptForecast *forecast)
{
  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *unit = forecast->units->pdata[i];

      if (g_strcmp0 (unit->unit, forecast->limiting) == 0)
        return tpt_choice_inline (unit->kind);
    }
  return g_strdup (forecast->limiting_label);
}

static char *
name_limiting (const TptForecast *forecast, gboolean exact)
{
  if (forecast->limiting_label == NULL)
    return g_strdup (exact && forecast->why != NULL ? forecast->why : _("cannot be told"));
  return exact ? g_strdup (forecast->limiting_label) : name_kind (forecast);
}

static void
add_row (TptFigure *figure, TptStationItem *item, GPtrArray *codes, gboolean exact)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (item);
  g_autofree char *label = name_station (item, codes, exact);
  g_autofree char *limiting = name_limiting (forecast, exact);
  TptDueRow row = {
    .label = label,
    .key = exact ? tpt_station_item_get_code (item) : label,
    .limiting = limiting,
    .symbol = tpt_station_item_get_symbol (item),
    .interval = forecast->interval,
    .lost_nights = forecast->lost_nights,
  };

  tpt_due_add_row (figure, &row);
}

static void
set_caption (TptFigure *figure, TptJobDue *due, TptZone *zone, guint n, gboolean exact)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *asked = tpt_words_instant (tpt_job_due_get_on (due), zone);
  g_autofree char *method = g_strdup_printf (_("Run-out forecast as of %s, from visits, readings and frames until then."), asked);
  /* Translators: what is due in words, then how stations are named. */
  g_autofree char *summary =
    g_strdup_printf ("%s. %s", tpt_job_due_get_summary (due), exact ? _("Exact: stations by name.") : _("Stations by number."));

  caption.title = _("What is due, and when it gives out");
  caption.summary = summary;
  caption.n = n;
  caption.n_of = _("stations");
  caption.method = method;
  caption.units = _("nights lost until the round");
  tpt_figure_set_caption (figure, &caption);
}

TptFigure *
tpt_due_figure_make (TptJobDue *due, TptZone *zone, gboolean exact)
{
  GListModel *stations = tpt_job_due_get_stations (due);
  TptFigure *figure = tpt_due_new (tpt_job_due_get_axis (due), zone, tpt_job_due_get_until (due));
  g_autoptr (GPtrArray) codes = number_stations (stations);
  guint n = 0;

  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      if (tpt_station_item_get_deployment (item) == NULL)
        continue;
      add_row (figure, item, codes, exact);
      n++;
    }
  set_caption (figure, due, zone, n, exact);
  return figure;
}
