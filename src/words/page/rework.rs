//! Planning a cut.

sentences! { "page.rework":
    title() = "Rework";
    solids() = "Solids";

    // ---- choices ----
    which_second() = "every second, from the selected one";
    which_all() = "all dogs";
    which_selected() = "the selected dog";
    which_others() = "all but the selected dog";
    goal_window() = "window time";
    goal_lash() = "lash";
}
