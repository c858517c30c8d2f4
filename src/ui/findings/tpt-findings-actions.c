/* What is chosen in the panes, in their menus and in the head of the page. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-figure-dialog.h"
#include "tpt-thing-menu.h"

/* Years that two periods are looked at for being the same ones apart. */
#define MOST_YEARS_APART 20

static gboolean
is_same (TptRange a, TptRange b)
{
  return a.from == b.from && a.to == b.to;
}

/* Of two periods some years apart, both become narrower together. */
static void
set_period (TptFindingsPage *self, TptRange period)
{
  TptRange was = tpt_findings_choice_get_period (self->choice), other = tpt_findings_choice_get_other_period (self->choice);
  TptZone *zone = tpt_project_get_zone (self->project);

  if (tpt_findings_choice_get_beside (self->choice) == TPT_BESIDE_PERIOD)
    for (int years = -MOST_YEARS_APART; years <= MOST_YEARS_APART; years++)
      if (years != 0 && is_same (tpt_findings_shift_years (was, years, zone), other))
        {
          tpt_findings_choice_compare_periods (self->choice, period, tpt_findings_shift_years (period, years, zone));
          return;
        }
  tpt_findings_choice_set_period (self->choice, period);
}

/* --- actions ------------------------------------------------------------------- */

static void
only_station_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  const char *const codes[] = { g_variant_get_string (code, NULL), NULL };

  tpt_findings_choice_set_stations (TPT_FINDINGS_PAGE (data)->choice, codes, FALSE);
}

static void
toggle_station_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  const char *const codes[] = { g_variant_get_string (code, NULL), NULL };

  tpt_findings_choice_set_stations (TPT_FINDINGS_PAGE (data)->choice, codes, TRUE);
}

static void
only_species_cb (GSimpleAction *action, GVariant *name, gpointer data)
{
  tpt_findings_choice_set_species (TPT_FINDINGS_PAGE (data)->choice, g_variant_get_string (name, NULL));
}

static void
compare_species_cb (GSimpleAction *action, GVariant *name, gpointer data)
{
  tpt_findings_choice_compare_species (TPT_FINDINGS_PAGE (data)->choice, g_variant_get_string (name, NULL));
}

static void
period_cb (GSimpleAction *action, GVariant *range, gpointer data)
{
  TptRange period;

  g_variant_get (range, "(xx)", &period.from, &period.to);
  set_period (data, period);
}

static void
hours_cb (GSimpleAction *action, GVariant *hours, gpointer data)
{
  TptFindingsPage *self = data;
  double from, to;

  g_variant_get (hours, "(dd)", &from, &to);
  tpt_findings_choice_set_hours (self->choice, from, to, tpt_findings_by_sun (self));
}

static void
back_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_findings_choice_go_back (TPT_FINDINGS_PAGE (data)->choice);
}

static void
everything_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_findings_page_show_everything (data);
}

void
tpt_findings_add_actions (TptFindingsPage *self)
{
  static const GActionEntry entries[] = {
    { "only-station", only_station_cb, "s" },       { "toggle-station", toggle_station_cb, "s" },
    { "only-species", only_species_cb, "s" },       { "compare-species", compare_species_cb, "s" },
    { "period", period_cb, "(xx)" },                { "hours", hours_cb, "(dd)" },
    { "back", back_cb },                            { "everything", everything_cb },
  };
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();

  g_action_map_add_action_entries (G_ACTION_MAP (group), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "findings", G_ACTION_GROUP (group));
}

/* --- things in panes --------------------------------------------------------------- */

static void
name_thing (TptFindingsPage *self, TptThing *thing)
{
  if (thing->station != NULL && thing->station_title == NULL)
    thing->station_title = tpt_findings_name_station (thing->station, self);
  if (thing->species != NULL && thing->species_title == NULL)
    thing->species_title = tpt_findings_name_species (thing->species, self);
}

static void
open_menu (TptFindingsPage *self, GtkWidget *widget, const GdkRectangle *at, TptThing *thing)
{
  g_autoptr (TptFilter) filter = tpt_findings_page_get_filter (self);

  name_thing (self, thing);
  tpt_thing_menu_popup (widget, at, thing, self->project, filter);
}

/* With Control: a station more or less, a species beside. */
static void
add_thing (TptFindingsPage *self, const TptThing *thing)
{
  const char *const codes[] = { thing->station, NULL };

  if (thing->station != NULL)
    tpt_findings_choice_set_stations (self->choice, codes, TRUE);
  else if (thing->species != NULL)
    tpt_findings_choice_compare_species (self->choice, thing->species);
}

static void
picked_cb (TptFindingsPage *self, const TptHit *hit, gboolean add, TptFigureView *view)
{
  TptFigure *figure = tpt_figure_view_get_figure (view);
  g_autoptr (TptThing) thing = tpt_thing_new_for_hit (tpt_figure_get_kind (figure), hit);
  GdkRectangle at = { (int) floor (hit->rect.x), (int) floor (hit->rect.y), (int) ceil (hit->rect.width) + 1,
                      (int) ceil (hit->rect.height) + 1 };

  thing->hours_by_sun = tpt_findings_by_sun (self);
  if (thing->station != NULL)
    tpt_findings_point_out (self, thing->station);
  if (add)
    add_thing (self, thing);
  else
    open_menu (self, GTK_WIDGET (view), &at, thing);
}

static void
brushed_cb (TptFindingsPage *self, gint64 from, gint64 to)
{
  set_period (self, (TptRange) { from, to });
}

static void
period_cleared_cb (TptFindingsPage *self)
{
  tpt_findings_choice_clear (self->choice, TPT_PART_PERIOD);
}

static void
hours_brushed_cb (TptFindingsPage *self, double from, double to)
{
  tpt_findings_choice_set_hours (self->choice, from, to, tpt_findings_by_sun (self));
}

static void
hours_cleared_cb (TptFindingsPage *self)
{
  tpt_findings_choice_clear (self->choice, TPT_PART_HOURS);
}

/* --- the map ---------------------------------------------------------------------------- */

static void
station_selected_cb (TptFindingsPage *self, const char *code)
{
  tpt_findings_point_out (self, code);
}

static void
station_picked_cb (TptFindingsPage *self, const char *code, const GdkRectangle *at, TptMapView *map)
{
  g_autoptr (TptThing) thing = tpt_map_view_make_thing (map, code);

  if (thing != NULL)
    open_menu (self, GTK_WIDGET (map), at, thing);
}

static void
stations_chosen_cb (TptFindingsPage *self, GStrv codes, gboolean add)
{
  tpt_findings_choice_set_stations (self->choice, (const char *const *) codes, add);
}

static void
measure_cb (TptFindingsPage *self)
{
  tpt_map_pair_set_measure (self->maps, (TptMapMeasure) gtk_drop_down_get_selected (self->measure));
  tpt_findings_mark_run (self, TPT_RUN_MATRIX);
  tpt_findings_mark_run (self, tpt_findings_choice_get_parts (self->choice) & TPT_PART_STATIONS ? TPT_RUN_MAP : TPT_RUN_COUNT);
}

/* --- other controls ---------------------------------------------------------------------- */

static void
clock_cb (TptFindingsPage *self)
{
  tpt_findings_mark_run (self, TPT_RUN_HOURS);
}

static void
kind_cb (TptFindingsPage *self)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_findings_show_side (self, &self->sides[i]);
  tpt_findings_queue (self);
}

/* Both details are of occasions of the same length. */
static void
occasion_cb (TptFindingsPage *self, int days)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_occasion_days (self->sides[i].details, days);
  tpt_findings_mark_run (self, TPT_RUN_OCCUPANCY);
}

static void
species_chosen_cb (TptFindingsPage *self)
{
  tpt_findings_choice_set_species (self->choice, tpt_species_list_get_chosen (self->species));
}

static void
species_beside_cb (TptFindingsPage *self, const char *name)
{
  tpt_findings_choice_compare_species (self->choice, name);
}

static void
species_menu_cb (TptFindingsPage *self, const char *name, GtkWidget *row)
{
  g_autoptr (TptThing) thing = tpt_thing_new ();
  GdkRectangle at = { 0, 0, gtk_widget_get_width (row), gtk_widget_get_height (row) };

  thing->species = g_strdup (name);
  thing->text = gtk_widget_get_tooltip_text (row) != NULL ? g_strdup (gtk_widget_get_tooltip_text (row)) : NULL;
  open_menu (self, row, &at, thing);
}

static void
period_set_cb (TptFindingsPage *self, gint64 from, gint64 to)
{
  tpt_findings_choice_set_period (self->choice, (TptRange) { from, to });
}

static void
periods_set_cb (TptFindingsPage *self, gint64 from, gint64 to, gint64 other_from, gint64 other_to)
{
  tpt_findings_choice_compare_periods (self->choice, (TptRange) { from, to }, (TptRange) { other_from, other_to });
}

static void
none_set_cb (TptFindingsPage *self)
{
  tpt_findings_choice_clear (self->choice, TPT_PART_OTHER);
}

/* --- figures for others -------------------------------------------------------------------- */

static void
open_figure (TptFindingsPage *self, const char *kind)
{
  g_autoptr (TptFilter) filter = tpt_findings_page_get_filter (self);
  g_autoptr (TptFilter) other = tpt_findings_choice_make_other_filter (self->choice, TPT_PART_NONE);
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  TptFigureDialog *dialog;

  if (self->project == NULL)
    return;
  dialog = tpt_figure_dialog_present (GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, self->project, kind, filter);
  if (other != NULL)
    tpt_figure_dialog_compare (dialog, other);
}

static void
figure_asked_cb (TptFindingsPage *self, TptFigurePane *pane)
{
  TptFigure *figure = tpt_figure_view_get_figure (tpt_figure_pane_get_view (pane));

  if (figure != NULL)
    open_figure (self, pane == self->hours && tpt_findings_by_sun (self) ? "hours-by-sun" : tpt_figure_get_kind (figure));
}

static void
larger_cb (TptFindingsPage *self, GParamSpec *pspec, TptFigurePane *pane)
{
  tpt_findings_set_larger (self, tpt_figure_pane_get_larger (pane) ? pane : NULL);
}

/* --- connecting -------------------------------------------------------------------------------- */

#define CONNECT(object, name, callback) g_signal_connect_object (object, name, G_CALLBACK (callback), self, G_CONNECT_SWAPPED)

static void
connect_pane (TptFindingsPage *self, TptFigurePane *pane)
{
  CONNECT (tpt_figure_pane_get_view (pane), "picked", picked_cb);
  CONNECT (pane, "figure-asked", figure_asked_cb);
  CONNECT (pane, "notify::larger", larger_cb);
}

static void
connect_brush (TptFindingsPage *self, TptFigurePane *pane)
{
  TptFigureView *view = tpt_figure_pane_get_view (pane);

  tpt_figure_view_set_brushable (view, TRUE);
  CONNECT (view, "brushed", brushed_cb);
  CONNECT (view, "brush-cleared", period_cleared_cb);
}

static void
connect_hours (TptFindingsPage *self)
{
  TptFigureView *view = tpt_figure_pane_get_view (self->hours);

  tpt_figure_view_set_brushable (view, TRUE);
  CONNECT (view, "hours-brushed", hours_brushed_cb);
  CONNECT (view, "brush-cleared", hours_cleared_cb);
  CONNECT (self->clock, "notify::selected", clock_cb);
}

static void
connect_maps (TptFindingsPage *self)
{
  for (guint i = 0; i < 2; i++)
    {
      TptMapView *map = tpt_map_pair_get_map (self->maps, i);

      CONNECT (map, "station-selected", station_selected_cb);
      CONNECT (map, "station-picked", station_picked_cb);
      CONNECT (map, "stations-chosen", stations_chosen_cb);
    }
  CONNECT (self->measure, "notify::selected", measure_cb);
}

static void
connect_head (TptFindingsPage *self)
{
  CONNECT (self->species, "chosen", species_chosen_cb);
  CONNECT (self->species, "beside", species_beside_cb);
  CONNECT (self->species, "menu-asked", species_menu_cb);
  CONNECT (self->period, "period-set", period_set_cb);
  CONNECT (self->compare, "periods-set", periods_set_cb);
  CONNECT (self->compare, "species-set", species_beside_cb);
  CONNECT (self->compare, "none-set", none_set_cb);
}

void
tpt_findings_connect_panes (TptFindingsPage *self)
{
  TptFigurePane *panes[] = { self->map, self->strip, self->hours, self->months, self->sides[0].pane, self->sides[1].pane };

  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    connect_pane (self, panes[i]);
  connect_brush (self, self->strip);
  connect_brush (self, self->months);
  connect_hours (self);
  connect_maps (self);
  connect_head (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    {
      CONNECT (self->sides[i].kind, "notify::selected", kind_cb);
      CONNECT (self->sides[i].details, "occasion-set", occasion_cb);
    }
}
