#include "config.h"

#include "tpt-thing-menu.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-job-frames.h"
#include "tpt-style.h"
#include "tpt-words.h"

#define RESOURCES "/io/github/tapetum/Tapetum/findings/"

/* A period shorter than this is no filter: it is the moment of a record. */
#define LEAST_PERIOD TPT_HOUR

struct _TptThingMenu {
  GtkPopover parent_instance;

  GtkLabel *text;
  GtkWidget *only_station;
  GtkWidget *toggle_station;
  GtkWidget *only_species;
  GtkWidget *compare_species;
  GtkWidget *period;
  GtkWidget *hours;
  GtkWidget *pictures;

  GtkWidget *owner;       /* (not owned): the parent, while it lives */
  GCancellable *counting; /* (owned) (nullable) */
  gboolean by_any_hour;   /* hours of the sun were left out */
};

G_DEFINE_FINAL_TYPE (TptThingMenu, tpt_thing_menu, GTK_TYPE_POPOVER)

static gboolean
has_name (GStrv names, const char *name)
{
  return names != NULL && g_strv_contains ((const char *const *) names, name);
}

static guint
count_names (GStrv names)
{
  return names != NULL ? g_strv_length (names) : 0;
}

static void
say (GtkWidget *button, const char *words)
{
  gtk_label_set_label (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), words);
}

/* Shows @button; takes a floating @target. */
static void
offer (GtkWidget *button, const char *action, GVariant *target)
{
  gtk_actionable_set_action_target_value (GTK_ACTIONABLE (button), target);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_visible (button, TRUE);
}

static void
offer_station (TptThingMenu *self, const char *station, GStrv chosen)
{
  gboolean has = has_name (chosen, station);

  if (!has || count_names (chosen) > 1)
    offer (self->only_station, "findings.only-station", g_variant_new_string (station));
  if (count_names (chosen) == 0)
    return;
  say (self->toggle_station, !has                        ? _("Also this station")
                             : count_names (chosen) == 1 ? _("All stations again")
                                                         : _("Without this station"));
  offer (self->toggle_station, "findings.toggle-station", g_variant_new_string (station));
}

static void
offer_species (TptThingMenu *self, const char *species, GStrv chosen)
{
  if (!has_name (chosen, species) || count_names (chosen) > 1)
    offer (self->only_species, "findings.only-species", g_variant_new_string (species));
  if (!has_name (chosen, species) && count_names (chosen) == 1)
    offer (self->compare_species, "findings.compare-species", g_variant_new_string (species));
}

static gboolean
is_period (TptRange when, TptRange already)
{
  return when.from != TPT_NO_INSTANT && when.to != TPT_NO_INSTANT && when.to - when.from >= LEAST_PERIOD &&
         (when.from != already.from || when.to != already.to);
}

static gboolean
has_hours (const TptThing *thing, const TptFilter *filter)
{
  return filter->hour_from >= 0 && filter->hours_by_sun == thing->hours_by_sun &&
         filter->hour_from == lround (thing->hour_from * 60) && filter->hour_to == lround (thing->hour_to * 60);
}

static void
offer_all (TptThingMenu *self, const TptThing *thing, const TptFilter *filter)
{
  if (thing->station != NULL)
    offer_station (self, thing->station, filter->stations);
  if (thing->species != NULL)
    offer_species (self, thing->species, filter->species);
  if (is_period (thing->when, filter->range))
    offer (self->period, "findings.period", g_variant_new ("(xx)", thing->when.from, thing->when.to));
  if (!isnan (thing->hour_from) && !has_hours (thing, filter))
    offer (self->hours, "findings.hours", g_variant_new ("(dd)", thing->hour_from, thing->hour_to));
}

/* --- pictures -------------------------------------------------------------------- */

static void
say_pictures (TptThingMenu *self, guint n)
{
  g_autofree char *number = tpt_words_number (n);
  g_autofree char *words = NULL;

  if (n == 0)
    words = g_strdup (_("No pictures on record"));
  else if (self->by_any_hour)
    words = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "Show %s picture, at any hour", "Show %s pictures, at any hour", n), number);
  else
    words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Show %s picture", "Show %s pictures", n), number);
  say (self->pictures, words);
  if (self->by_any_hour)
    gtk_widget_set_tooltip_text (self->pictures, _("Pictures are found by the clock, not by the sun."));
}

static void
focus_first (TptThingMenu *self)
{
  GtkWidget *buttons[] = { self->only_station, self->toggle_station, self->only_species, self->compare_species,
                           self->period,       self->hours,          self->pictures };

  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    if (gtk_widget_get_visible (buttons[i]) && gtk_widget_grab_focus (buttons[i]))
      return;
}

static gboolean
has_focus_on_button (TptThingMenu *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && GTK_IS_BUTTON (focus) && gtk_widget_is_ancestor (focus, GTK_WIDGET (self));
}

static void
show_count (TptThingMenu *self, guint n, GVariant *target)
{
  say_pictures (self, n);
  if (n > 0)
    offer (self->pictures, "win.show-pictures", target);
  if (!has_focus_on_button (self))
    focus_first (self);
}

static void
counted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptThingMenu) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) refs = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  TptJob *job = tpt_project_get_job (result);

  if (g_task_get_cancellable (G_TASK (result)) != self->counting)
    return;
  g_clear_object (&self->counting);
  if (self->owner == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (!good)
    {
      say (self->pictures, error->message);
      return;
    }
  refs = tpt_job_frames_steal_refs (TPT_JOB_FRAMES (job));
  show_count (self, refs->len, g_object_get_data (G_OBJECT (job), "target"));
}

static void
count_pictures (TptThingMenu *self, const TptThing *thing, TptProject *project, const TptFilter *filter)
{
  g_autoptr (TptFrameQuery) query = tpt_thing_menu_make_query (thing, filter);
  g_autoptr (TptJobFrames) job = tpt_job_frames_new (query);
  gboolean thing_hours = !isnan (thing->hour_from);

  self->by_any_hour = thing_hours ? thing->hours_by_sun : filter->hour_from >= 0 && filter->hours_by_sun;
  g_object_set_data_full (G_OBJECT (job), "target", g_variant_ref_sink (tpt_frame_query_to_variant (query)),
                          (GDestroyNotify) g_variant_unref);
  self->counting = g_cancellable_new ();
  gtk_widget_set_sensitive (self->pictures, FALSE);
  gtk_widget_set_visible (self->pictures, TRUE);
  tpt_project_run_async (project, TPT_JOB (job), self->counting, counted_cb, g_object_ref (self));
}

/* --- coming and going -------------------------------------------------------------- */

static void
stop (TptThingMenu *self)
{
  if (self->counting != NULL)
    g_cancellable_cancel (self->counting);
  g_clear_object (&self->counting);
}

static void
leave (TptThingMenu *self)
{
  GtkWidget *owner = g_steal_pointer (&self->owner);

  stop (self);
  if (owner == NULL)
    return;
  g_signal_handlers_disconnect_by_data (owner, self);
  gtk_widget_unparent (GTK_WIDGET (self));
}

static gboolean
leave_cb (gpointer data)
{
  leave (data);
  return G_SOURCE_REMOVE;
}

/* Not before whoever closed it is done with it. The keyboard may have been taken elsewhere. */
static void
closed_cb (TptThingMenu *self)
{
  if (self->owner != NULL && gtk_widget_get_mapped (self->owner))
    gtk_widget_grab_focus (self->owner);
  g_idle_add_full (G_PRIORITY_DEFAULT, leave_cb, g_object_ref (self), g_object_unref);
}

/* After the button's own action. */
static void
clicked_cb (TptThingMenu *self)
{
  gtk_popover_popdown (GTK_POPOVER (self));
}

static void
tpt_thing_menu_dispose (GObject *object)
{
  stop (TPT_THING_MENU (object));
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_THING_MENU);
  G_OBJECT_CLASS (tpt_thing_menu_parent_class)->dispose (object);
}

static void
tpt_thing_menu_class_init (TptThingMenuClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_thing_menu_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, RESOURCES "tpt-thing-menu.ui");
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, text);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, only_station);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, toggle_station);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, only_species);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, compare_species);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, period);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, hours);
  gtk_widget_class_bind_template_child (widget_class, TptThingMenu, pictures);
  gtk_widget_class_bind_template_callback (widget_class, closed_cb);
  gtk_widget_class_bind_template_callback (widget_class, clicked_cb);
}

static void
tpt_thing_menu_init (TptThingMenu *self)
{
  tpt_style_add (RESOURCES "findings.css");
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
set_text (TptThingMenu *self, const TptThing *thing)
{
  const char *title = thing->station_title != NULL ? thing->station_title : thing->species_title;
  const char *text = thing->text != NULL ? thing->text : title != NULL ? title : "";

  gtk_label_set_label (self->text, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

TptThingMenu *
tpt_thing_menu_popup (GtkWidget *relative_to, const GdkRectangle *at, const TptThing *thing, TptProject *project,
                      const TptFilter *filter)
{
  TptThingMenu *self = g_object_new (TPT_TYPE_THING_MENU, NULL);

  self->owner = relative_to;
  gtk_widget_set_parent (GTK_WIDGET (self), relative_to);
  g_signal_connect_object (relative_to, "unmap", G_CALLBACK (gtk_popover_popdown), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (relative_to, "destroy", G_CALLBACK (leave), self, G_CONNECT_SWAPPED);
  gtk_popover_set_pointing_to (GTK_POPOVER (self), at);
  set_text (self, thing);
  offer_all (self, thing, filter);
  count_pictures (self, thing, project, filter);
  gtk_popover_popup (GTK_POPOVER (self));
  focus_first (self);
  gtk_label_select_region (self->text, 0, 0); /* it had the keyboard for a moment */
  return self;
}

gboolean
tpt_thing_menu_is_settled (TptThingMenu *self)
{
  return self->counting == NULL;
}
