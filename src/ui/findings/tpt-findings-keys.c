/* The keys of the page, and which panes have room. */
#include "config.h"

#include "tpt-findings-page-private.h"

/* Escape again within this shows everything. */
#define TWICE_US (G_USEC_PER_SEC * 3 / 2)

/* At this width the lowest row has room for three. */
#define WIDE_PX 1600

static TptFigurePane *
get_pane_with_focus (TptFindingsPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL ? TPT_FIGURE_PANE (gtk_widget_get_ancestor (focus, TPT_TYPE_FIGURE_PANE)) : NULL;
}

/* --- room ------------------------------------------------------------------------ */

static void
show_pane (TptFindingsPage *self, TptFigurePane *pane)
{
  gtk_widget_set_visible (GTK_WIDGET (pane), self->larger == NULL || self->larger == pane);
}

static gboolean
is_shown (TptFindingsPage *self, TptFigurePane *pane)
{
  return gtk_widget_get_visible (GTK_WIDGET (pane));
}

static void
divide_room (TptFindingsPage *self)
{
  TptFigurePane *panes[] = { self->map, self->hours, self->strip, self->months, self->sides[0].pane };
  gboolean sides;

  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    show_pane (self, panes[i]);
  gtk_widget_set_visible (GTK_WIDGET (self->sides[1].pane),
                          self->larger == self->sides[1].pane || (self->larger == NULL && self->wide));
  sides = is_shown (self, self->sides[0].pane) || is_shown (self, self->sides[1].pane);
  gtk_widget_set_visible (GTK_WIDGET (self->sides_place), sides);
  gtk_widget_set_visible (gtk_paned_get_start_child (self->rows), is_shown (self, self->map) || is_shown (self, self->hours));
  gtk_widget_set_visible (GTK_WIDGET (self->lower), is_shown (self, self->months) || sides);
  gtk_widget_set_visible (GTK_WIDGET (self->rest), is_shown (self, self->strip) || is_shown (self, self->months) || sides);
}

void
tpt_findings_set_larger (TptFindingsPage *self, TptFigurePane *pane)
{
  TptFigurePane *before = self->larger;

  if (before == pane)
    return;
  self->larger = pane;
  if (before != NULL)
    tpt_figure_pane_set_larger (before, FALSE);
  if (pane != NULL)
    tpt_figure_pane_set_larger (pane, TRUE);
  divide_room (self);
}

static gboolean
set_wide_cb (gpointer data)
{
  TptFindingsPage *self = data;
  gboolean wide = gtk_widget_get_width (GTK_WIDGET (self)) >= WIDE_PX;

  self->width_source = 0;
  if (wide == self->wide)
    return G_SOURCE_REMOVE;
  self->wide = wide;
  divide_room (self);
  tpt_findings_queue (self);
  return G_SOURCE_REMOVE;
}

/* Not at once: what is visible must not change while sizes are given out. */
static void
layout_cb (TptFindingsPage *self)
{
  if (self->width_source == 0)
    self->width_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, set_wide_cb, self, NULL);
}

static void
realize_cb (GtkWidget *widget)
{
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (widget));

  g_signal_connect_object (surface, "layout", G_CALLBACK (layout_cb), widget, G_CONNECT_SWAPPED | G_CONNECT_AFTER);
}

/* --- from pane to pane -------------------------------------------------------------- */

static gboolean
holds_focus (GtkWidget *part, GtkWidget *focus)
{
  return focus != NULL && (focus == part || gtk_widget_is_ancestor (focus, part));
}

/* A drop-down remembers what had the focus in its list, also when that is closed: keys would be lost there. */
static gboolean
enter_controls (GtkWidget *part)
{
  gboolean entered = gtk_widget_child_focus (part, GTK_DIR_TAB_FORWARD);
  GtkRoot *root = gtk_widget_get_root (part);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (entered && focus != NULL && !gtk_widget_get_mapped (focus))
    {
      GtkWidget *list = gtk_widget_get_ancestor (focus, GTK_TYPE_DROP_DOWN);

      return list != NULL && gtk_widget_grab_focus (list);
    }
  return entered;
}

/* Into what a pane shows rather than to the buttons above it. */
static gboolean
enter (TptFindingsPage *self, GtkWidget *part)
{
  if (!gtk_widget_get_mapped (part))
    return FALSE;
  if (part == GTK_WIDGET (self->species))
    return gtk_widget_grab_focus (part);
  if (part == GTK_WIDGET (self->map))
    return gtk_widget_grab_focus (GTK_WIDGET (tpt_map_pair_get_map (self->maps, 0)));
  if (TPT_IS_FIGURE_PANE (part) && gtk_widget_get_mapped (GTK_WIDGET (tpt_figure_pane_get_view (TPT_FIGURE_PANE (part)))))
    return gtk_widget_grab_focus (GTK_WIDGET (tpt_figure_pane_get_view (TPT_FIGURE_PANE (part))));
  return enter_controls (part);
}

static void
go_round (TptFindingsPage *self, gboolean back)
{
  GtkWidget *parts[] = { self->bar, GTK_WIDGET (self->species), GTK_WIDGET (self->map), GTK_WIDGET (self->hours),
                         GTK_WIDGET (self->strip), GTK_WIDGET (self->months), GTK_WIDGET (self->sides[0].pane),
                         GTK_WIDGET (self->sides[1].pane) };
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  guint n = G_N_ELEMENTS (parts), at = 0; /* from outside, forwards to the species */

  for (guint i = 0; i < n; i++)
    if (holds_focus (parts[i], focus))
      at = i;
  for (guint i = 1; i < n; i++)
    if (enter (self, parts[(at + (back ? n - i : i)) % n]))
      return;
}

/* --- keys ------------------------------------------------------------------------------ */

/* First back to all panes, then, when pressed twice, to everything. */
static gboolean
escape (TptFindingsPage *self)
{
  gint64 now = g_get_monotonic_time ();
  gboolean twice = self->escaped_at != 0 && now - self->escaped_at < TWICE_US;

  if (self->larger != NULL)
    {
      tpt_findings_set_larger (self, NULL);
      return TRUE;
    }
  self->escaped_at = twice ? 0 : now;
  if (twice)
    tpt_findings_page_show_everything (self);
  return TRUE;
}

static gboolean
enlarge (TptFindingsPage *self)
{
  TptFigurePane *pane = self->larger != NULL ? self->larger : get_pane_with_focus (self);

  if (pane == NULL)
    return FALSE;
  tpt_findings_set_larger (self, self->larger != NULL ? NULL : pane);
  return TRUE;
}

static gboolean
shows_content (TptFindingsPage *self)
{
  return gtk_widget_get_mapped (GTK_WIDGET (self)) &&
         g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "content") == 0;
}

static gboolean
go_round_cb (GtkWidget *widget, GVariant *back, gpointer data)
{
  if (!shows_content (TPT_FINDINGS_PAGE (widget)))
    return FALSE;
  go_round (TPT_FINDINGS_PAGE (widget), g_variant_get_boolean (back));
  return TRUE;
}

static gboolean
go_back_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFindingsPage *self = TPT_FINDINGS_PAGE (widget);

  if (!shows_content (self) || !tpt_findings_choice_can_go_back (self->choice))
    return FALSE;
  tpt_findings_choice_go_back (self->choice);
  return TRUE;
}

static gboolean
key_cb (TptFindingsPage *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (!shows_content (self) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK)) != 0)
    return FALSE;
  if (keyval == GDK_KEY_F9)
    return enlarge (self);
  return keyval == GDK_KEY_Escape && escape (self);
}

/* Also while the focus is elsewhere in the window, as it is when the page has just been opened by key. */
static void
add_shortcut (GtkShortcutController *controller, guint key, GdkModifierType held, GtkShortcutFunc func, GVariant *argument)
{
  GtkShortcut *shortcut =
    gtk_shortcut_new (gtk_keyval_trigger_new (key, held), gtk_callback_action_new (func, NULL, NULL));

  gtk_shortcut_set_arguments (shortcut, argument);
  gtk_shortcut_controller_add_shortcut (controller, shortcut);
}

void
tpt_findings_add_keys (TptFindingsPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *everywhere = gtk_shortcut_controller_new ();

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (everywhere), GTK_SHORTCUT_SCOPE_GLOBAL);
  /* Before the panes around, which take F6 for themselves. */
  gtk_event_controller_set_propagation_phase (everywhere, GTK_PHASE_CAPTURE);
  add_shortcut (GTK_SHORTCUT_CONTROLLER (everywhere), GDK_KEY_F6, 0, go_round_cb, g_variant_new_boolean (FALSE));
  add_shortcut (GTK_SHORTCUT_CONTROLLER (everywhere), GDK_KEY_F6, GDK_SHIFT_MASK, go_round_cb, g_variant_new_boolean (TRUE));
  add_shortcut (GTK_SHORTCUT_CONTROLLER (everywhere), GDK_KEY_Left, GDK_ALT_MASK, go_back_cb, NULL);
  gtk_widget_add_controller (GTK_WIDGET (self), everywhere);
  g_signal_connect (self, "realize", G_CALLBACK (realize_cb), NULL);
  divide_room (self);
}
