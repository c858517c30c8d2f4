#include "config.h"

#include "tpt-findings-page.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-findings-page-private.h"
#include "tpt-style.h"

#define RESOURCES "/io/github/tapetum/Tapetum/findings/"

G_DEFINE_FINAL_TYPE (TptFindingsPage, tpt_findings_page, GTK_TYPE_WIDGET)

static void
chosen_cb (TptFindingsPage *self, guint parts)
{
  tpt_findings_show_choice (self);
  tpt_findings_mark (self, parts);
}

static void
project_changed_cb (TptFindingsPage *self)
{
  tpt_findings_read_tracks (self);
  tpt_findings_mark (self, TPT_PART_ALL);
}

static void
leave_project (TptFindingsPage *self)
{
  tpt_findings_drop_runs (self);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_data (self->project, self);
  g_clear_object (&self->project);
}

static void
tpt_findings_page_dispose (GObject *object)
{
  TptFindingsPage *self = TPT_FINDINGS_PAGE (object);

  leave_project (self);
  g_clear_handle_id (&self->width_source, g_source_remove);
  if (self->choice != NULL)
    g_signal_handlers_disconnect_by_data (self->choice, self);
  g_clear_object (&self->choice);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FINDINGS_PAGE);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    g_clear_object (&self->sides[i].details);
  tpt_findings_drop_results (self);
  G_OBJECT_CLASS (tpt_findings_page_parent_class)->dispose (object);
}

/* To the species, at once or as soon as they are counted. */
static gboolean
tpt_findings_page_grab_focus (GtkWidget *widget)
{
  TptFindingsPage *self = TPT_FINDINGS_PAGE (widget);

  self->awaits_keys = !gtk_widget_get_mapped (GTK_WIDGET (self->species));
  return !self->awaits_keys && gtk_widget_grab_focus (GTK_WIDGET (self->species));
}

static void
bind_head (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, waiting);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, bar);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, other_sentence);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, beside_sentence);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, chips);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, spinner);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, back);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, period);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, compare);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, everything);
}

static void
bind_panes (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, species);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, nothing_seen);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, nothing_seen_label);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, upper);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, lower);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, rows);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, rest);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, sides_place);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, map);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, strip);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, hours);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, months);
}

static void
tpt_findings_page_class_init (TptFindingsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_findings_page_dispose;
  widget_class->grab_focus = tpt_findings_page_grab_focus;
  g_type_ensure (TPT_TYPE_CHOICE_CHIPS);
  g_type_ensure (TPT_TYPE_COMPARE_BUTTON);
  g_type_ensure (TPT_TYPE_PERIOD_BUTTON);
  g_type_ensure (TPT_TYPE_SPECIES_LIST);
  g_type_ensure (TPT_TYPE_FIGURE_PANE);
  gtk_widget_class_set_template_from_resource (widget_class, RESOURCES "tpt-findings-page.ui");
  bind_head (widget_class);
  bind_panes (widget_class);
}

static void
tpt_findings_page_init (TptFindingsPage *self)
{
  tpt_style_add (RESOURCES "findings.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  self->choice = tpt_findings_choice_new ();
  g_signal_connect_object (self->choice, "changed", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  tpt_findings_add_actions (self);
  tpt_findings_fill_panes (self);
  tpt_findings_connect_panes (self);
  tpt_findings_add_keys (self);
}

GtkWidget *
tpt_findings_page_new (void)
{
  return g_object_new (TPT_TYPE_FINDINGS_PAGE, NULL);
}

static void
enter_project (TptFindingsPage *self, TptProject *project)
{
  TptZone *zone = tpt_project_get_zone (project);
  TptInstant now = tpt_project_get_now (project, NULL);

  self->project = g_object_ref (project);
  tpt_period_button_set_moment (self->period, zone, now);
  tpt_compare_button_set_moment (self->compare, zone, now);
  tpt_map_pair_set_moment (self->maps, zone, now);
  g_signal_connect_object (project, "changed", G_CALLBACK (project_changed_cb), self, G_CONNECT_SWAPPED);
  gtk_label_set_label (self->waiting, _("Counting…"));
  gtk_stack_set_visible_child_name (self->stack, "waiting");
  tpt_findings_show_choice (self);
  project_changed_cb (self);
}

void
tpt_findings_page_set_project (TptFindingsPage *self, TptProject *project)
{
  if (self->project == project)
    return;
  leave_project (self);
  tpt_findings_choice_reset (self->choice);
  tpt_findings_set_larger (self, NULL);
  tpt_findings_forget (self);
  if (project != NULL)
    enter_project (self, project);
  else
    gtk_stack_set_visible_child_name (self->stack, "nothing");
}

TptFilter *
tpt_findings_page_get_filter (TptFindingsPage *self)
{
  return tpt_findings_choice_make_filter (self->choice, TPT_PART_NONE);
}

TptFindingsChoice *
tpt_findings_page_get_choice (TptFindingsPage *self)
{
  return self->choice;
}

void
tpt_findings_page_show_everything (TptFindingsPage *self)
{
  tpt_findings_choice_clear (self->choice, TPT_PART_ALL);
}

gboolean
tpt_findings_page_is_settled (TptFindingsPage *self)
{
  return !tpt_findings_is_running (self);
}
