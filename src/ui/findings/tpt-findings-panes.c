/* What stands in the heads of the panes, and the switchable ones. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include <glib/gi18n-lib.h>

/* So that panes keep their widths whatever is chosen in a head. */
#define KIND_WIDTH 190

static GtkDropDown *
make_drop_down (const char *const *items, const char *label)
{
  GtkWidget *drop_down = gtk_drop_down_new_from_strings (items);

  gtk_widget_add_css_class (drop_down, "tight");
  gtk_widget_set_valign (drop_down, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop_down), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_DROP_DOWN (drop_down);
}

static void
fill_map (TptFindingsPage *self)
{
  const char *measures[] = { _("Detections"), _("Per 100 trap nights"), _("Seen or not"), NULL };

  self->maps = TPT_MAP_PAIR (tpt_map_pair_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->maps), TRUE);
  tpt_figure_pane_set_content (self->map, GTK_WIDGET (self->maps));
  self->measure = make_drop_down (measures, _("What the discs on the map show"));
  tpt_figure_pane_add_control (self->map, GTK_WIDGET (self->measure));
}

static void
fill_hours (TptFindingsPage *self)
{
  const char *clocks[] = { _("By the clock"), _("By the sun"), NULL };

  self->clock = make_drop_down (clocks, _("Which hours"));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->clock), _("By the sun, 06:00 is sunrise and 18:00 sunset at the station on that day"));
  tpt_figure_pane_add_control (self->hours, GTK_WIDGET (self->clock));
}

static void
add_side (TptFindingsPage *self, guint which)
{
  TptSide *side = &self->sides[which];
  const char *kinds[] = { _("Species by station"), _("Accumulation of species"), _("Details"), NULL };

  side->pane = g_object_new (TPT_TYPE_FIGURE_PANE, NULL);
  side->details = TPT_DETAILS_VIEW (g_object_ref_sink (tpt_details_view_new ()));
  side->kind = make_drop_down (kinds, _("What this pane shows"));
  gtk_widget_add_css_class (GTK_WIDGET (side->kind), "pane-title");
  gtk_widget_set_size_request (GTK_WIDGET (side->kind), KIND_WIDTH, -1);
  gtk_drop_down_set_selected (side->kind, which == 0 ? TPT_SIDE_MATRIX : TPT_SIDE_DETAILS);
  tpt_figure_pane_set_title_control (side->pane, GTK_WIDGET (side->kind));
  gtk_widget_set_hexpand (GTK_WIDGET (side->pane), TRUE);
  gtk_box_append (self->sides_place, GTK_WIDGET (side->pane));
  tpt_findings_show_side (self, side);
}

void
tpt_findings_fill_panes (TptFindingsPage *self)
{
  TptFigurePane *panes[] = { self->map, self->strip, self->hours, self->months, NULL, NULL };

  fill_map (self);
  fill_hours (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    {
      add_side (self, i);
      panes[G_N_ELEMENTS (panes) - TPT_N_SIDES + i] = self->sides[i].pane;
    }
  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    tpt_figure_pane_set_growing (panes[i], TRUE);
  tpt_figure_view_set_squeezable (tpt_figure_pane_get_view (self->hours), TRUE);
  tpt_figure_view_set_squeezable (tpt_figure_pane_get_view (self->months), TRUE);
}
